/**
 * What a user, a file name or a header of a table says is shown, and does nothing: no output has an element, an attribute, a link, a
 * formula or a command that a text brought in. Each output is parsed by a reader of its own kind and compared with that of the same
 * campaign with a harmless word in the place of each text.
 */
import { readFileSync, rmSync } from 'node:fs';
import path from 'node:path';
import { ElementType, parseDocument as parseXml } from 'htmlparser2';
import MarkdownIt from 'markdown-it';
import papaparse from 'papaparse/papaparse.js';
import { parse as parseHtml, type DefaultTreeAdapterTypes } from 'parse5';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  githubAnnotations,
  gitlabCodeQuality,
  junit,
  junitSuite,
  markdownSummary,
  sarif,
  shownProblems,
} from '../../src/ci/index.js';
import type { EvaluatedFile } from '../../src/cli/eachCampaign.js';
import { evaluateOne } from '../../src/cli/evaluateOne.js';
import { compareCampaigns } from '../../src/difference/compareCampaigns.js';
import { exportSource } from '../../src/export/campaignRows.js';
import { exportTables } from '../../src/export/tables.js';
import { toCsv } from '../../src/export/writeCsv.js';
import { briefMarkdown, briefText } from '../../src/presentation/brief.js';
import { completionsAt } from '../../src/presentation/completions.js';
import { differenceBrief } from '../../src/presentation/differenceTexts.js';
import { hoverAt } from '../../src/presentation/hoverText.js';
import { resultComments } from '../../src/presentation/resultComments.js';
import { toResult } from '../../src/presentation/resultSchema.js';
import { signatureAt } from '../../src/presentation/signatureHelp.js';
import { toMarkdown } from '../../src/report/writers/toMarkdown.js';
import { toText } from '../../src/report/writers/toText.js';
import { resultLines, resultsText } from '../../src/results/resultsText.js';
import { lexLine } from '../../src/syntax/lexLine.js';
import { keptFolderOf, shell, silentIn } from '../cli/runInFolder.js';
import { documentOf, htmlOf } from '../report/campaigns.js';
import { readPdf } from '../report/pdfPages.js';
import { everyField, fieldsOfNotation } from './everyField.js';
import { harmless, payloads } from './payloads.js';

interface Opened extends EvaluatedFile {
  readonly folder: string;
  readonly root: string;
  readonly text: string;
  /** A character that has no place in a text is a problem of its own, so there is more to list. */
  readonly hasMore: boolean;
}

const folders: string[] = [];
afterAll(() => folders.forEach((folder) => rmSync(folder, { recursive: true, force: true })));

async function opened(text: string): Promise<Opened> {
  const { files, root } = everyField(text);
  const folder = keptFolderOf(files);
  folders.push(folder);
  const only = await evaluateOne(root, silentIn(folder), '.');
  if (typeof only === 'string') throw new Error(only);
  const hasMore = only.evaluation.problems.some(({ id }) => id === 'syntax/stray-character');
  return { ...only, folder, root, text: files[root]!, hasMore };
}

let plain: Opened;
beforeAll(async () => {
  plain = await opened(harmless);
});

/** What the output is made of: nothing that it did not hold before, and where no more is said, the same in the same order. */
function expectSameMake(given: Opened, before: readonly string[], now: readonly string[]): void {
  const known = new Set(before);
  expect(now.filter((part) => !known.has(part))).toEqual([]);
  if (!given.hasMore) expect(now).toEqual(before);
}

type HtmlNode = DefaultTreeAdapterTypes.Node;

/** Each element with the names of its attributes, and where the few that lead somewhere lead. */
function makeOfHtml(page: string): string[] {
  const parts: string[] = [];
  const visit = (node: HtmlNode): void => {
    if (node.nodeName === '#comment') parts.push('comment');
    if ('attrs' in node) {
      const leads = node.attrs.filter(({ name }) => /^(?:href|src|action|style|xlink:href)$/.test(name));
      const schemes = leads.map(({ name, value }) => `${name}:${/^#|^data:image\/|^[^:]*$/.test(value)}`);
      parts.push([node.tagName, ...node.attrs.map(({ name }) => name), ...schemes].join(' '));
    }
    if ('childNodes' in node) for (const child of node.childNodes) visit(child);
  };
  visit(parseHtml(page));
  return parts;
}

const textOfHtml = (page: string): string => {
  const visit = (node: HtmlNode): string =>
    'value' in node ? node.value : 'childNodes' in node ? node.childNodes.map(visit).join('') : '';
  return visit(parseHtml(page));
};

const markdown = new MarkdownIt({ html: true, linkify: true });

function makeOfMarkdown(text: string): string[] {
  return markdown
    .parse(text, {})
    .flatMap((token) => [token, ...(token.children ?? [])])
    .filter(({ type }) => !['text', 'text_special', 'softbreak', 'inline'].includes(type))
    .map(({ type, tag }) => `${type} ${tag}`);
}

function makeOfXml(text: string): string[] {
  const parts: string[] = [];
  const visit = (node: ReturnType<typeof parseXml>['children'][number]): void => {
    if (node.type === ElementType.Comment || node.type === ElementType.Directive) parts.push(node.type);
    if (node.type === ElementType.Tag) parts.push([node.name, ...Object.keys(node.attribs)].join(' '));
    if ('children' in node) for (const child of node.children) visit(child);
  };
  for (const node of parseXml(text, { xmlMode: true }).children) visit(node);
  return parts;
}

/** Keys only. */
function makeOfJson(value: unknown): string[] {
  if (Array.isArray(value)) return value.flatMap(makeOfJson);
  if (typeof value !== 'object' || value === null) return [typeof value];
  return Object.entries(value).flatMap(([key, each]) => [key, ...makeOfJson(each)]);
}

/** Nothing but text and line ends reaches a terminal. */

const obeyed = /[\0-\t\v-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]/;

function expectNoCommands(text: string): void {
  expect(obeyed.exec(text)?.[0]).toBe(undefined);
}

it('every field of the notation that takes a text has one here', () => {
  const { fields } = everyField(harmless);
  expect([...fields].sort()).toEqual([...fieldsOfNotation].sort());
});

describe.each(Object.entries(payloads))('%s', (name, text) => {
  let given: Opened;
  beforeAll(async () => {
    given = await opened(text);
  });

  it('is read as a text, and everything else is computed', () => {
    const ids = (of: Opened): string[] => of.evaluation.problems.map(({ id }) => id);
    if (given.hasMore) {
      // A line with a character that has no place in it is not read: of each one problem says so.
      expect(given.evaluation.sweeps.length).toBeGreaterThanOrEqual(4);
      expect(given.evaluation.problems.length).toBeGreaterThan(30);
      return;
    }
    expect(given.evaluation.sweeps.map(({ address }) => address)).toEqual(
      plain.evaluation.sweeps.map(({ address }) => address),
    );
    expect(given.evaluation.counts).toEqual(plain.evaluation.counts);
    expect(ids(given)).toEqual(ids(plain));
  });

  it.each(['full', 'summary', 'faults'] as const)('in the HTML report: %s', (content) => {
    const page = (of: Opened): string => htmlOf(of.evaluation, { content, display: of.display });
    expectSameMake(given, makeOfHtml(page(plain)), makeOfHtml(page(given)));
    if (!given.hasMore && name !== 'characters that XML forbids')
      expect(textOfHtml(page(given)).replace(/\s+/g, ' ')).toContain(text.trim());
  });

  it.each(['full', 'summary', 'faults'] as const)('in the Markdown and the text report: %s', (content) => {
    const report = (of: Opened) => documentOf(of.evaluation, { content, display: of.display });
    const [before, now] = [toMarkdown(report(plain)), toMarkdown(report(given))];
    expectSameMake(given, makeOfMarkdown(before), makeOfMarkdown(now));
    expectNoCommands(now);
    expectNoCommands(toText(report(given)));
  });

  it('in the summary of a build', () => {
    expectSameMake(given, makeOfMarkdown(markdownSummary(plain)), makeOfMarkdown(markdownSummary(given)));
  });

  it('in the forms for build servers', () => {
    expectSameMake(given, makeOfXml(junit([junitSuite(plain)])), makeOfXml(junit([junitSuite(given)])));
    // XML 1.0, 2.2: characters that no document may hold. A half of a pair cannot be written in UTF-8.

    expect(/[\0-\x08\v\f\x0e-\x1f\ufffe\uffff]|\p{Cs}/u.exec(junit([junitSuite(given)]))?.[0]).toBe(
      undefined,
    );
    const json = (of: Opened): string[] => makeOfJson(JSON.parse(sarif(shownProblems(of), '0.0.0')));
    expectSameMake(given, json(plain), json(given));
    const quality = (of: Opened): string[] => makeOfJson(JSON.parse(gitlabCodeQuality(shownProblems(of))));
    expectSameMake(given, quality(plain), quality(given));
    const lines = githubAnnotations(shownProblems(given)).trimEnd().split('\n');
    for (const line of lines)
      expect(line).toMatch(/^::(?:error|warning|notice) file=[^:,]*,line=\d+,(?:\w+=[^:,]*,)*title=[^:,]*::/);
    if (!given.hasMore)
      expect(lines).toHaveLength(githubAnnotations(shownProblems(plain)).trimEnd().split('\n').length);
  });

  it('in the JSON result', () => {
    const json = (of: Opened): string[] =>
      makeOfJson(JSON.parse(JSON.stringify(toResult(of.evaluation, of.display, '0.0.0'))));
    expectSameMake(given, json(plain), json(given));
  });

  it('in the tables of an export', () => {
    for (const { table, write } of exportTables) {
      const rows = (of: Opened): string[][] => {
        const source = exportSource(of.evaluation, of.display, '0.0.0');
        const { bytes } = write(source, toCsv);
        return papaparse.parse(new TextDecoder().decode(bytes), {
          delimiter: ',',
          newline: '\n',
          fastMode: false,
        }).data;
      };
      const [before, now] = [rows(plain), rows(given)];
      if (!given.hasMore) expect(now.map(({ length }) => length)).toEqual(before.map(({ length }) => length));
      for (const cell of now.flat())
        if (!/^-?\d/.test(cell)) expect(cell, table.name).not.toMatch(/(?:^|[;\t\r\n])"*[=+\-@]|^[\t\r\n]/);
    }
  });

  it('in committed results and behind the text in a diff of git', () => {
    const results = (of: Opened): string =>
      resultsText([{ name: of.root, lines: resultLines(of.evaluation) }]);
    const fields = (of: Opened): string[] =>
      results(of)
        .split('\n')
        .map((line) => String(line.split('\t').length));
    if (!given.hasMore) expect(fields(given)).toEqual(fields(plain));
    expectNoCommands(results(given).replaceAll('\t', ''));
    for (const line of resultComments(given.evaluation)) expect(line).not.toMatch(/[\r\n]/);
  });

  it('in hovers, completions and signatures: no link, no picture, no command', () => {
    const shown = (of: Opened): string[] => {
      const open = { file: of.file, lineAt: (line: number) => lines[line] ?? '', resolve: () => undefined };
      const lines = of.text.split('\n');
      const parts: string[] = [];
      for (const [line, each] of lines.entries()) {
        for (const { start } of lexLine(each, line).tokens) {
          const position = { line, character: start };
          const texts = [
            hoverAt(of.evaluation, open, position)?.markdown,
            ...completionsAt(of.evaluation, open, position).map(({ documentation }) => documentation),
            signatureAt(open, position)?.documentation,
          ];
          parts.push(...texts.flatMap((each) => (each === undefined ? [] : makeOfMarkdown(each))));
        }
      }
      return parts;
    };
    const now = shown(given);
    expect(now.length).toBeGreaterThan(100);
    expect(now.filter((part) => /^(?:link|image|html)/.test(part))).toEqual([]);
    expectSameMake(given, shown(plain), now);
  });

  it('in a terminal', async () => {
    const named = ['--root', '.', `./${given.root}`];
    const answers = [
      await shell(given.folder, ['check', ...named]),
      await shell(given.folder, ['window', ...named, '--date', '2026-05-14']),
      await shell(given.folder, ['bring-in', '.']),
    ];
    for (const { out, error } of answers) expectNoCommands(out + error);
  });

  it('in a difference, for a terminal and for a pull request', async () => {
    const difference = await compareCampaigns(plain, given);
    const brief = differenceBrief(difference, given.root, { before: plain.display, after: given.display });
    expectNoCommands(briefText(brief));
    const text = briefMarkdown(brief);
    expect(makeOfMarkdown(text).filter((part) => /^(?:link|image|code)/.test(part))).toEqual([]);
    const html = text.match(/(?<!\\)<[^>]*>/g) ?? [];
    expect(html.filter((element) => !/^<\/?(?:details|summary)>$/.test(element))).toEqual([]);
  });
});

it('all at once, with charts and as PDF', async () => {
  const given = await opened(Object.values(payloads).slice(0, 2).join(' '));
  const write = async (of: Opened, name: string): Promise<Buffer> => {
    const { error } = await shell(of.folder, ['report', '--root', '.', `./${of.root}`, '--out', name]);
    expect(error).toBe('');
    return readFileSync(path.join(of.folder, name));
  };
  const make = async (of: Opened): Promise<string[]> =>
    makeOfHtml((await write(of, 'report.html')).toString());
  const known = new Set(await make(plain));
  expect((await make(given)).filter((part) => !known.has(part))).toEqual([]);
  const pdf = await write(given, 'report.pdf');
  expect(pdf.toString('latin1')).not.toMatch(
    /\/(?:JavaScript|JS|Launch|URI|SubmitForm|EmbeddedFile|OpenAction)\b/,
  );
  expect((await readPdf(new Uint8Array(pdf))).pages.length).toBeGreaterThan(1);
});
