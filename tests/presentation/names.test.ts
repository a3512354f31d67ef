/** Names across files: where they stand, and giving a thing another name. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { filesAround, type IncludeSource } from '../../src/presentation/campaignFiles.js';
import type { FileEdit } from '../../src/presentation/fileEdit.js';
import { nameAt, type FileDocument, type NamedTarget } from '../../src/presentation/nameOccurrences.js';
import { fileThatGives, highlightsAt, placesOf } from '../../src/presentation/references.js';
import { renameableAt, renameEdits } from '../../src/presentation/rename.js';
import { splitRun } from '../../src/presentation/splitRun.js';
import { unusedNames } from '../../src/presentation/unusedNames.js';
import { workspaceSymbols } from '../../src/presentation/workspaceSymbols.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import { resolveCampaign } from '../../src/campaign/resolveCampaign.js';
import { parseDocument } from '../../src/syntax/document.js';

const library = `module KF108M "Kestrel Foundry 108M"
  cells 54
module KF110M
  cells 54
`;
const campaignText = `include "library.sweepbook"
campaign fen
  criteria acceptance
plane south
  tilt 12 deg
string 1.01 .. 1.04
  modules 18 x KF108M
  plane   south
string 1.05
  modules 18 x KF110M
  plane south
  criteria acceptance
tracer T1
reference RC1
layout logger
  delimiter semicolon
criteria acceptance
  Pmax -5 % ..
sweep 1.05/11 at 2026-05-14 11:42   # 1.05 in a comment stays
  data "a.csv"
  layout logger
  with T1, RC1
  note "1.05 in words stays"
replace 1.05/11 at 2026-05-14 13:10
  type KF108M -> KF110M
note 1.05 at 2026-05-14 13:20 "x"
accept 1.05 "why" by "who"
insulation 1.05 at 2026-05-14 10:05
  with T1
`;
const other = `include "library.sweepbook"
string 1.05
  modules 20 x KF110M
`;

const texts: Record<string, string> = {
  '/a.sweepbook': campaignText,
  '/b.sweepbook': other,
  '/library.sweepbook': library,
};

function sourceOf(all: Record<string, string>): IncludeSource {
  const documents = new Map(Object.entries(all).map(([file, text]) => [file, parseDocument(text)]));
  return {
    includesOf: (file) =>
      Promise.resolve([...(all[file] ?? '').matchAll(/^include "(.*)"/gm)].map(([, path]) => `/${path}`)),
    document: (file) => documents.get(file),
  };
}

const around = (file: string, all = texts) => filesAround(file, Object.keys(all), sourceOf(all));
const files = (all: Record<string, string>): FileDocument[] =>
  Object.entries(all).map(([file, text]) => ({ file, document: parseDocument(text) }));
const text = (space: NamedTarget['space'], name: string): NamedTarget => ({ space, text: name });

/** The texts after the edits. */
function applied(all: Record<string, string>, edits: readonly FileEdit[]): Record<string, string> {
  return Object.fromEntries(
    Object.entries(all).map(([file, before]) => {
      const lines = before.split('\n');
      const own = edits.filter((edit) => edit.file === file);
      for (const { range, text: put } of own.reverse()) {
        const line = lines[range.start.line]!;
        lines[range.start.line] =
          line.slice(0, range.start.character) + put + line.slice(range.end.character);
      }
      return [file, lines.join('\n')];
    }),
  );
}

function renamed(all: Record<string, string>, target: NamedTarget, name: string): Record<string, string> {
  const answer = renameEdits(files(all), target, name);
  if ('refusal' in answer) throw new Error(answer.refusal);
  return applied(all, answer.edits);
}

describe('the files that speak of the same things', () => {
  it('are those of every campaign that a file is part of', async () => {
    const names = async (file: string) => (await around(file)).map((each) => each.file);
    expect(await names('/a.sweepbook')).toEqual(['/a.sweepbook', '/library.sweepbook']);
    expect(await names('/library.sweepbook')).toEqual(['/a.sweepbook', '/library.sweepbook', '/b.sweepbook']);
  });

  it('are found where includes run in a circle or lead nowhere', async () => {
    const circle = { '/a': 'include "b"\n', '/b': 'include "a"\ninclude "gone"\n' };
    expect((await around('/b', circle)).map(({ file }) => file).sort()).toEqual(['/a', '/b']);
  });
});

describe('the places of a name', () => {
  it('are where it is given and where it is referred to, in every kind of line', async () => {
    const found = placesOf(await around('/a.sweepbook'), text('string', '1.05'));
    const lines = campaignText.split('\n');
    expect(found.map(({ range }) => lines[range.start.line]!.split(' ')[0])).toEqual([
      'string',
      'sweep',
      'replace',
      'note',
      'accept',
      'insulation',
    ]);
    for (const { range } of found)
      expect(lines[range.start.line]!.slice(range.start.character, range.end.character)).toBe('1.05');
  });

  it('keep a string apart from that of another campaign', async () => {
    const module = text('module', 'KF110M');
    const files = await around('/a.sweepbook');
    expect(fileThatGives(files, module)).toBe('/library.sweepbook');
    const all = placesOf(await around('/library.sweepbook'), module);
    expect(all.map(({ file, range }) => `${file}:${range.start.line}`)).toEqual([
      '/a.sweepbook:9',
      '/a.sweepbook:24',
      '/library.sweepbook:2',
      '/b.sweepbook:2',
    ]);
    expect(all.filter(({ isGiven }) => isGiven)).toHaveLength(1);
  });

  it('of a string in a run are the run and what names it', () => {
    const found = placesOf(
      files({ a: 'string 1.01 .. 1.04\nsweep 1.03 at 2026-05-14 11:42\n' }),
      text('string', '1.03'),
    );
    expect(found.map(({ isGiven, run }) => [isGiven, run?.length])).toEqual([
      [true, 4],
      [false, undefined],
    ]);
  });

  it('are highlighted in their file', () => {
    const document = parseDocument(campaignText);
    const line = campaignText.split('\n').indexOf('tracer T1');
    expect(highlightsAt(document, { line, character: 8 }).map(({ isGiven }) => isGiven)).toEqual([
      true,
      false,
      false,
    ]);
    expect(highlightsAt(document, { line, character: 2 })).toEqual([]);
  });

  it('hold in lines that are wrong', () => {
    const document = parseDocument('sweep 1.03 at\n  with T1, RC1 "\nsweep 1.04/x nonsense\n');
    expect(nameAt(document, { line: 0, character: 7 })?.text).toBe('1.03');
    expect(nameAt(document, { line: 1, character: 12 })?.text).toBe('RC1');
    expect(nameAt(document, { line: 2, character: 9 })?.text).toBe('1.04');
  });
});

describe('renaming', () => {
  it('changes the name everywhere it is named and nothing else', () => {
    const after = renamed(texts, text('module', 'KF110M'), 'KF111');
    expect(after['/library.sweepbook']).toBe(library.replace('KF110M', 'KF111'));
    expect(after['/a.sweepbook']).toBe(campaignText.replaceAll('KF110M', 'KF111'));
    const strings = renamed({ a: campaignText }, text('string', '1.05'), '2.01').a!;
    expect(strings).toContain('sweep 2.01/11 at');
    expect(strings).toContain('# 1.05 in a comment stays');
    expect(strings).toContain('"1.05 in words stays"');
    expect(renamed({ a: campaignText }, text('instrument', 'T1'), 'T2').a).toContain('with T2, RC1');
    for (const [space, name] of [
      ['layout', 'logger'],
      ['criteria', 'acceptance'],
      ['plane', 'south'],
    ] as const)
      expect(renamed({ a: campaignText }, text(space, name), 'new-name').a).toBe(
        campaignText.replaceAll(name, 'new-name'),
      );
  });

  const refusal = (target: NamedTarget, name: string, table?: string) => {
    const answer = renameEdits(files(texts), target, name, () => table);
    return 'refusal' in answer ? answer.refusal : undefined;
  };

  it('refuses a bad name, a taken one, one of a run, one that tables name, and a thing that is not there', () => {
    expect(refusal(text('module', 'KF110M'), 'a b')).toContain('has no place in a name');
    expect(refusal(text('module', 'KF110M'), '')).toContain('missing');
    expect(refusal(text('module', 'KF110M'), 'a..b')).toContain('one name');
    expect(refusal(text('module', 'KF110M'), 'KF108M')).toContain('taken');
    expect(refusal(text('instrument', 'T1'), 'RC1')).toContain('taken');
    expect(refusal(text('string', '1.05'), '1.02')).toContain('taken');
    expect(refusal(text('string', '1.05'), 'at')).toContain('time');
    expect(refusal(text('string', '1.05'), '1/5')).toContain('`/`');
    expect(refusal(text('string', '1.02'), '9')).toContain('`1.01 .. 1.04`');
    expect(refusal(text('string', '1.05'), '9', 'all.csv')).toContain('all.csv');
    expect(refusal(text('module', 'nowhere'), 'x1')).toContain('describe it');
    expect(refusal(text('module', 'KF110M'), 'KF110M')).toBeUndefined();
  });

  it('says before the new name is asked for what cannot be renamed', () => {
    const document = parseDocument(campaignText);
    const at = (piece: string) => {
      const before = campaignText.slice(0, campaignText.indexOf(piece)).split('\n');
      return renameableAt(document, { line: before.length - 1, character: before.at(-1)!.length });
    };
    expect(at('1.05/11')).toMatchObject({ target: { space: 'string', text: '1.05' } });
    expect(at('1.01 ..')).toMatchObject({ refusal: expect.stringContaining('split the run') });
    expect(at('tilt')).toMatchObject({ refusal: expect.stringContaining('Only names') });
  });

  it('there and back gives the same text, and in between the campaign resolves as before', () => {
    const names = fc.stringMatching(/^[A-Za-z0-9_][A-Za-z0-9._-]{0,8}$/);
    const targets: NamedTarget[] = [
      text('module', 'KF108M'),
      text('module', 'KF110M'),
      text('string', '1.05'),
      text('instrument', 'T1'),
      text('layout', 'logger'),
      text('criteria', 'acceptance'),
      text('plane', 'south'),
      text('campaign', 'fen'),
    ];
    const whole = { a: campaignText.replace('include "library.sweepbook"\n', library) };
    const problems = (all: Record<string, string>) =>
      resolveCampaign({ file: 'a', document: parseDocument(all.a!), includes: [] }).problems.map(
        ({ id, range }) => [id, range.start.line],
      );
    fc.assert(
      fc.property(fc.constantFrom(...targets), names, (target, name) => {
        const answer = renameEdits(files(whole), target, name);
        if ('refusal' in answer) return;
        const there = applied(whole, answer.edits);
        expect(problems(there)).toEqual(problems(whole));
        expect(renamed(there, { ...target, text: name }, target.text)).toEqual(whole);
      }),
      // The sign between number and type is a name too.
      { numRuns: 120, examples: [[targets[0]!, 'x']] },
    );
  });
});

describe('a run', () => {
  const run = `# Roof
string 1.08 .. 1.12 "Roof" # all alike
  modules 18 x KF108M
  # out and back
  cable 48 m, 4 mm2, copper

sweep 1.10 at 2026-05-14 11:42
`;
  const split = (name: string) => {
    const edit = splitRun(files({ a: run }), text('string', name))!;
    const lines = run.split('\n');
    const [first, last] = [edit.range.start.line, edit.range.end.line];
    return [...lines.slice(0, first), edit.text, ...lines.slice(last + 1)].join('\n');
  };
  const strings = (of: string) =>
    [...resolveCampaign({ file: 'a', document: parseDocument(of), includes: [] }).campaign.strings].map(
      ([name, { record }]) => [name, record.title, record.modules?.count, record.cable?.length.value],
    );

  it('is split around a string, each part with all that the block says', () => {
    const inner = split('1.10');
    expect(inner.match(/^string .*$/gm)).toEqual([
      'string 1.08 .. 1.09 "Roof" # all alike',
      'string 1.10 "Roof" # all alike',
      'string 1.11 .. 1.12 "Roof" # all alike',
    ]);
    for (const name of ['1.08', '1.09', '1.10', '1.12']) expect(strings(split(name))).toEqual(strings(run));
    expect(split('1.08').match(/^string/gm)).toHaveLength(2);
    const document = parseDocument(inner);
    expect(renameEdits([{ file: 'a', document }], text('string', '1.10'), 'X')).toMatchObject({
      edits: [{}, {}],
    });
  });

  it('is all that is split', () => {
    expect(splitRun(files(texts), text('string', '1.05'))).toBeUndefined();
    expect(splitRun(files(texts), text('module', 'KF108M'))).toBeUndefined();
  });
});

describe('names of the workspace', () => {
  it('are found by some of their letters', () => {
    const all = files(texts);
    const found = (query: string) =>
      workspaceSymbols(all, query).map(({ name, container }) => `${name} ${container}`);
    expect(found('kf110')).toEqual(['KF110M module']);
    expect(found('1.05')).toEqual(['1.05 string', '1.05/11 sweep 2026-05-14 11:42', '1.05 string']);
    expect(found('1.04')).toEqual(['1.01 .. 1.04 string']);
    expect(found('zzz')).toEqual([]);
    expect(found('')).toHaveLength(12);
  });
});

describe('names that nothing uses', () => {
  const unused = async (root: string) => {
    const workbook = new Workbook({
      read: (file) => {
        const found = { ...texts, '/root': root }[file];
        return Promise.resolve(
          found === undefined
            ? { ok: false, reason: 'missing' as const }
            : { ok: true, bytes: new TextEncoder().encode(found) },
        );
      },
      resolve: (_, path) => `/${path}`,
      displayName: (file) => file,
    });
    return unusedNames(await workbook.evaluate('/root')).map(({ message }) => message);
  };

  it('are of every kind that something else names, in the root file', async () => {
    const text = `${campaignText}tracer T2\nreference RC2\nlayout old\nmodule KF90\n  cells 50\nsite far\nsite near\nplane east\ncriteria strict\ncriteria lax\n`;
    expect(await unused(text)).toEqual([
      'No sweep or test uses the tracer `T2`.',
      'No sweep or test uses the reference `RC2`.',
      'No sweep uses the layout `old`.',
      'No string uses the module `KF90`.',
      'No plane uses the site `far`.',
      'No plane uses the site `near`.',
      'No string uses the plane `east`.',
      'No campaign, string or sweep uses the criteria `strict`.',
      'No campaign, string or sweep uses the criteria `lax`.',
    ]);
  });

  it('are not told while everything is still to come', async () => {
    expect(await unused('module M\ntracer T\nlayout l\n')).toEqual([]);
  });

  it('are not those that hold because they are the only ones', async () => {
    const only = 'site s\nplane p\nstring 1\n  modules 2 x KF108M\ncriteria c\n  Pmax -5 % ..\n';
    const sweep = 'sweep 1 at 2026-05-14 11:42\n  data "a.csv"\n';
    expect(await unused(`include "library.sweepbook"\n${only}${sweep}`)).toEqual([]);
  });
});
