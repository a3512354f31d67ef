/** The cases of lines.txt. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { lexLine } from '../../src/syntax/lexLine.js';

const cases = [
  ...readFileSync(path.join(import.meta.dirname, 'lines.txt'), 'utf8').matchAll(/^(.+)\n==> (.*)$/gm),
];
const unescape = (text: string) =>
  text.replaceAll('\\t', '\t').replaceAll('\\0', '\0').replaceAll('\\e', '\u202e');

test.each(cases.map(([, line, expected]) => [line!, expected!]))('%s', (line, expected) => {
  const text = unescape(line);
  const { tokens, comment, problem } = lexLine(text, 0);
  const parts = tokens.map((token) => `${token.kind}:${token.text}`);
  if (comment) parts.push(`comment:${comment.text}`);
  if (problem) parts.push(`problem:${problem.id}`);
  expect(parts.join(' ')).toBe(unescape(expected));
  for (const token of tokens)
    if (token.kind !== 'quoted') expect(text.slice(token.start, token.end)).toBe(token.text);
});

test('lines.txt was read', () => {
  expect(cases.length).toBe(19);
});
