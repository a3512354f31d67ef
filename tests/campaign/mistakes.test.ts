/**
 * Each file of mistakes/ says behind `#!` what is wrong on its line (`#!^`: on the line above), and between `<` and `>`
 * what the range covers. Nothing else may be reported: one mistake, one problem.
 */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { resolveCampaign } from '../../src/campaign/resolveCampaign.js';
import { blockKeywords } from '../../src/campaign/keywords.js';
import { parseDocument } from '../../src/syntax/document.js';
import type { FileProblem } from '../../src/text/problem.js';

const folder = path.join(import.meta.dirname, 'mistakes');
const files = readdirSync(folder);

interface Expected {
  readonly line: number;
  readonly id: string;
  readonly covers?: string;
}

function expectedIn(text: string): Expected[] {
  return text.split('\n').flatMap((line, number) => {
    const match = /#!(\^?) ([a-z/-]+)(?: <(.*)>)?$/.exec(line);
    return match ? [{ line: number - match[1]!.length, id: match[2]!, covers: match[3] }] : [];
  });
}

function problemsOf(text: string): readonly FileProblem[] {
  return resolveCampaign({ file: 'f', document: parseDocument(text), includes: [] }).problems;
}

describe('each mistake gives one problem, at its place', () => {
  test.each(files)('%s', (file) => {
    const text = readFileSync(path.join(folder, file), 'utf8');
    const lines = text.split('\n');
    const expected = expectedIn(text);
    const problems = problemsOf(text);
    expect(expected.length).toBeGreaterThan(0);
    expect(problems.map(({ id, range }) => `${range.start.line} ${id}`)).toEqual(
      expected.map(({ id, line }) => `${line} ${id}`),
    );
    for (const [index, { range, message }] of problems.entries()) {
      const covered = lines[range.start.line]!.slice(range.start.character, range.end.character);
      expect(range.end.line).toBe(range.start.line);
      if (expected[index]!.covers !== undefined) expect(covered).toBe(expected[index]!.covers);
      expect(message).toMatch(/[.?]$/);
      expect(message.length).toBeLessThan(400);
    }
  });
});

/** Mends whose title says that something is added, removed or exchanged leave the file without that problem. */
test.each(files)('mends of %s mend', (file) => {
  const text = readFileSync(path.join(folder, file), 'utf8');
  const problems = problemsOf(text);
  for (const problem of problems) {
    for (const mend of problem.mends ?? []) {
      const after = problemsOf(applied(text, mend));
      const at = (each: FileProblem) => `${each.range.start.line} ${each.id}`;
      const mended = after.filter((each) => at(each) === at(problem)).length;
      expect(mended, `${problem.id}: ${mend.title}`).toBe(0);
    }
  }
});

function applied(text: string, mend: { range: FileProblem['range']; text: string }): string {
  const lines = text.split('\n');
  const offset = ({ line, character }: { line: number; character: number }) =>
    lines.slice(0, line).reduce((sum, each) => sum + each.length + 1, 0) + character;
  return text.slice(0, offset(mend.range.start)) + mend.text + text.slice(offset(mend.range.end));
}

test('every problem id of the notation has a file', () => {
  const sources = ['src/syntax', 'src/campaign'].flatMap((source) =>
    readdirSync(source, { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts'))
      .map((name) => readFileSync(path.join(source, name), 'utf8')),
  );
  const literal =
    /'((?:syntax|property|value|unit|name|campaign|address|string|plane|site|sweep|sweeps|layout|time|replace|criteria|nameplate)\/[a-z-]+)'/g;
  const ids = new Set(sources.flatMap((source) => [...source.matchAll(literal)].map((match) => match[1]!)));
  for (const block of blockKeywords)
    if (block.properties.some((property) => property.requiredFor)) ids.add(`${block.name}/incomplete`);
  for (const name of ['beta', 'gamma'])
    for (const what of ['positive', 'large', 'small']) ids.add(`nameplate/${name}-${what}`);
  // It takes a hundred thousand strings; see resolveCampaign.test.ts.
  ids.delete('string/too-many');
  const covered = new Set(
    files.flatMap((file) => expectedIn(readFileSync(path.join(folder, file), 'utf8')).map(({ id }) => id)),
  );
  expect([...ids].filter((id) => !covered.has(id)).sort()).toEqual([]);
  expect(ids.size).toBeGreaterThan(60);
});
