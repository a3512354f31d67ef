/** One mistake is said once, where it was made, and nothing is computed from what cannot be. Values are invented. */
import { describe, expect, it } from 'vitest';
import { csvOf, curveAt, moduleBlock, wideCriteria } from '../analysis/cecCampaign.js';
import { MemoryFiles, evaluateText, inMemory } from './memoryFiles.js';
import { Workbook } from '../../src/evaluation/workbook.js';

const at = { irradiance: 900, cellTemperature: 46 };
const tables = {
  's.csv': csvOf(curveAt('row 4', at, { series: 18 })),
  'one.csv': csvOf(curveAt('row 4', at)),
};
const sweep = `sweep S at 2026-05-14 12:00
  irradiance 900 W/m2
  temperature 46 degC cell
  data "s.csv"`;
const text = [moduleBlock('row 4'), 'string S\n  modules 18 x M', wideCriteria, sweep].join('\n\n') + '\n';

const changed = async (from: string | RegExp, to: string) => {
  const mistaken = text.replace(from, to);
  expect(mistaken).not.toBe(text);
  return evaluateText(mistaken, tables);
};
const ids = (problems: readonly { id: string }[]): string[] => problems.map(({ id }) => id);

describe('a misspelt property', () => {
  it.each(['irradiance', 'temperature'])('that gives %s is not missing too', async (name) => {
    const { problems } = await changed(`  ${name} `, `  ${name.slice(0, 2)}${name.slice(3)} `);
    expect(ids(problems)).toEqual(['property/unknown']);
    expect(problems[0]!.message).toContain(`Did you mean \`${name}\``);
  });

  it('with a colon behind it is the property', async () => {
    const { problems } = await changed('  irradiance 900', '  irradiance: 900');
    expect(ids(problems)).toEqual(['property/unknown']);
  });
});

it('a coefficient of the wrong sign is not computed with', async () => {
  const wrong = await changed(/beta -/, 'beta ');
  expect(ids(wrong.problems)).toEqual(['nameplate/beta-positive']);
  // An estimate in its place would be a guess beside an open error.
  const { verdict, reasons, deviation } = wrong.sweeps[0]!.analysis;
  expect([verdict, reasons[0]!.code, deviation.pmax]).toEqual(['not judged', 'nameplate-error', undefined]);
  const right = await evaluateText(text, tables);
  expect(right.sweeps[0]!.analysis.deviation.pmax).toBeDefined();
});

it('alpha and beta exchanged are both refused, and nothing is computed with either', async () => {
  const wrong = await changed(/( {2}alpha )(\S+ \S+)(\n {2}beta )(\S+ \S+)/, '$1-0.3 %/K$30.05 %/K');
  expect(ids(wrong.problems)).toEqual(['nameplate/alpha-negative', 'nameplate/beta-positive']);
  expect(wrong.sweeps[0]!.analysis.reasons[0]!.text).toContain('alpha, beta');
});

describe('a file that is not in UTF-8', () => {
  const umlauts = text.replace('string S\n', 'string S "Süd ± 3 °"\n');
  const latin1 = Uint8Array.from(umlauts, (character) => character.charCodeAt(0));
  const utf16 = new Uint8Array(
    new Uint16Array([0xfeff, ...Array.from(umlauts, (c) => c.charCodeAt(0))]).buffer,
  );

  it.each([
    ['windows-1252', latin1],
    ['utf-16le', utf16],
  ])('but %s is read all the same, with one warning', async (encoding, bytes) => {
    const files = new MemoryFiles({ ...tables, 'c.sweepbook': bytes });
    const { problems, sweeps, campaign } = await new Workbook(files).evaluate(inMemory('c.sweepbook'));
    expect(ids(problems)).toEqual(['file/not-utf-8']);
    expect(problems[0]!.message).toContain(encoding);
    expect(sweeps[0]!.analysis.verdict).toBe('pass');
    expect([...campaign.strings.values()][0]!.record.title).toBe('Süd ± 3 °');
  });
});

describe('what no nameplate can give neither passes nor fails', () => {
  it.each([
    [
      'fewer modules than were measured',
      'modules 18 x',
      'modules 9 x',
      /^Voc is \d+ % above the nameplate, more than/,
    ],
    ['an irradiance far too low', '900 W/m2', '450 W/m2', /^Isc is \d+ % above the nameplate, more than/],
  ])('with %s', async (_, from, to, reason) => {
    const { sweeps, counts } = await changed(from, to);
    expect(counts).toMatchObject({ pass: 0, fail: 0, notJudged: 1 });
    expect(sweeps[0]!.analysis.reasons.find(({ decisive }) => decisive)!.text).toMatch(reason);
    // The numbers stay to be looked at.
    expect(sweeps[0]!.analysis.deviation.pmax).toBeGreaterThan(0.5);
  });
});

describe('a string with fewer modules than are entered', () => {
  it('is asked for its count before anybody opens it, without others beside it', async () => {
    const { cases, sweeps } = await changed('modules 18 x', 'modules 20 x');
    expect(sweeps[0]!.analysis.verdict).toBe('fail');
    const { text } = cases[0]!.proposal!;
    expect(text).toMatch(/^Doubt S .* before it is opened\. .*20 .*[Cc]ount (the|its) modules/);
  });
});

describe('a sweep that cannot be of its address', () => {
  it('has the voltage of one module', async () => {
    const { problems } = await changed('"s.csv"', '"one.csv"');
    expect(ids(problems)).toEqual(['sweep/implausible-deviation']);
    expect(problems[0]!.message).toContain('Voc is about that of 1 of the 18 modules declared');
  });

  it('has its irradiance in kW/m2', async () => {
    const { problems } = await changed('900 W/m2', '0.9 W/m2');
    expect(ids(problems)).toContain('sweep/implausible-deviation');
    expect(problems[0]!.message).toMatch(/Isc is \d+ times the nameplate.*kW\/m2, that is 900 W\/m2/);
  });
});
