/** Whatever is written parses, names the file, and gives the points that were shown. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { missingOf, withAnswers } from '../../src/bringIn/foundTable.js';
import { writtenBlocks } from '../../src/bringIn/writtenBlocks.js';
import { curve, sweepText, type Style } from '../sweeps/fixtures.js';
import { bring, campaignText, evaluate } from './campaign.js';

const headers: readonly (readonly [string, string] | undefined)[] = [
  ['U (V)', 'I (A)'],
  ['Spannung [V]', 'Strom [A]'],
  ['a "b"', 'c#d'],
  ['x\u202e', 'y'],
  ['same', 'same'],
  undefined,
];

const style = fc.record({
  delimiter: fc.constantFrom(',', ';', '\t', '|'),
  decimal: fc.constantFrom('.', ','),
  eol: fc.constantFrom('\n', '\r\n'),
  header: fc.constantFrom(...headers),
  reversed: fc.boolean(),
  negative: fc.boolean(),
  quoted: fc.boolean(),
  finalEol: fc.boolean(),
  metadata: fc.array(
    fc.constantFrom(
      ['String', '1.03'],
      ['Irradiance', '812 W/m2'],
      ['Cell temperature', '44,1 °C'],
      ['Temperatur', '40 °C'],
      ['Datum', '14.05.2026'],
      ['Time', '11:42:10'],
      ['Date/Time: 2026-05-14 11:42'],
      ['Remark', '"; # \\ $1'],
      [],
    ),
    { maxLength: 5 },
  ),
}) as fc.Arbitrary<Style>;

const name = fc.stringMatching(/^[A-Za-z0-9 _.#"$`äß\\-]{0,12}$/).map((text) => `${text}x.csv`);

it('is read back from what was written', { timeout: 60_000 }, async () => {
  const answers = {
    address: '1.03',
    time: '2026-05-14 12:00',
    irradiance: '800 W/m2 ± 2 %',
    temperature: '44 degC cell',
  };
  let brought = 0;
  const property = fc.asyncProperty(name, style, fc.boolean(), async (path, written, writeLayout) => {
    const text = sweepText(curve(24, 11.2, 640), written);
    const { found, left } = await bring({ [path]: text }, { writeLayout });
    expect(found.length + left.length).toBe(1);
    const [only] = found;
    if (only?.kind !== 'sweep') return;
    brought++;
    const asked = Object.fromEntries(missingOf(only).map((each) => [each, answers[each]]));
    const block = writtenBlocks([withAnswers(only, asked)]);
    const { sweeps, problems } = await evaluate(`${campaignText}\n${block}`, { [path]: text });
    expect(problems.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(sweeps).toHaveLength(1);
    expect(sweeps[0]!.reading?.curve).toEqual(only.reading.curve);
  });
  await fc.assert(property, { numRuns: 25 });
  expect(brought).toBeGreaterThan(10);
});
