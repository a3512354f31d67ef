/** Serial numbers over the replacements of a campaign. All numbers are invented. */
import { expect, it } from 'vitest';
import { evaluateText } from '../evaluation/memoryFiles.js';

const replace = (address: string, time: string, serial: string): string =>
  `replace ${address} at 2026-05-14 ${time}\n  serial ${serial}`;

async function complaints(...blocks: string[]): Promise<string[]> {
  const text = ['module M\n  Pmax 400 W', 'string S\n  modules 18 x M', ...blocks].join('\n\n');
  const { problems } = await evaluateText(text);
  return problems
    .filter(({ id }) => id === 'replace/serial')
    .map(({ range, message }) => `${range.start.line + 1}: ${message}`);
}

it.each<[string, string[], (string | RegExp)[]]>([
  [
    'one after the other',
    [replace('S/11', '13:00', '"A" -> "B"'), replace('S/11', '15:00', '"B" -> "C"')],
    [],
  ],
  [
    'written out of order, right by time',
    [replace('S/11', '15:00', '"B" -> "C"'), replace('S/11', '13:00', '"A" -> "B"')],
    [],
  ],
  [
    'another one than was put in',
    [replace('S/11', '13:00', '"A" -> "B"'), replace('S/11', '15:00', '"X" -> "C"')],
    [/^11: "X" is taken out of S\/11, where "B" was put in before/],
  ],
  [
    'one put into two places',
    [replace('S/11', '13:00', '"A" -> "B"'), replace('S/12', '15:00', '"D" -> "B"')],
    [/"B" is put into S\/12, but it stands in S\/11 already/],
  ],
  [
    'one taken out of another place',
    [replace('S/11', '13:00', '"A" -> "B"'), replace('S/12', '15:00', '"B" -> "C"')],
    [/"B" is taken out of S\/12, but it was put into S\/11/],
  ],
  [
    'moved to another place',
    [replace('S/11', '13:00', '"A" -> "B"'), replace('S/12', '15:00', '"D" -> "A"')],
    [],
  ],
  ['the same on both sides', [replace('S/11', '13:00', '"A" -> "A"')], [/which is the new one/]],
])('%s', async (_name, blocks, expected) => {
  const found = await complaints(...blocks);
  expect(found).toEqual(expected.map((each) => expect.stringMatching(each)));
});
