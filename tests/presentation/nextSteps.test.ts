/**
 * What to do next, on strings whose curves are exact: published module parameters at known conditions. What the campaign
 * declares of them is then wrong in one way, and the step has to point at it. Names, times and faults are invented.
 */
import { describe, expect, it } from 'vitest';
import { casesOf } from '../../src/cases/casesOf.js';
import { nextSteps } from '../../src/presentation/nextSteps.js';
import { sweepTable } from '../../src/presentation/textTable.js';
import { csvOf, curveAt, instruments, moduleBlock } from '../analysis/cecCampaign.js';
import { evaluateText } from '../evaluation/memoryFiles.js';

const truth = { irradiance: 900, cellTemperature: 46 };
const names = ['S1', 'S2', 'S3', 'S4', 'S5', 'S6'];

interface Written {
  readonly irradiance?: number;
  readonly cellTemperature?: number;
  readonly data?: string;
}

interface Odd {
  /** What is written of some strings other than the truth. */
  readonly written?: Readonly<Record<string, Written>>;
  readonly declared?: number;
  readonly more?: string;
  readonly module?: string;
}

const files = {
  'good.csv': csvOf(curveAt('row 4', truth, { series: 18 })),
  'two-substrings-out.csv': csvOf(curveAt('row 4', truth, { series: 18 - 2 / 3 })),
  'one-module-fewer.csv': csvOf(curveAt('row 4', truth, { series: 17 })),
  'weak-string.csv': csvOf(curveAt('row 4', truth, { series: 9 })),
  'weak-section.csv': csvOf(curveAt('row 4', truth, { series: 9 - 2 / 3 })),
  'weak-module.csv': csvOf(curveAt('row 4', truth, { series: 1 / 3 })),
};

const sweepOf = (address: string, minute: number, written: Written = {}): string => {
  const {
    irradiance = truth.irradiance,
    cellTemperature = truth.cellTemperature,
    data = 'good.csv',
  } = written;
  return `sweep ${address} at 2026-05-14 12:${String(minute).padStart(2, '0')}\n  irradiance ${irradiance} W/m2\n  temperature ${cellTemperature} degC cell\n  data "${data}"\n  with T, R\n`;
};

async function evaluated({ written = {}, declared = 18, more = '', module }: Odd) {
  const text = [
    module ?? moduleBlock('row 4', { lines: ['substrings 3'] }),
    instruments,
    `string S1 .. S6\n  modules ${declared} x M`,
    'criteria c\n  Pmax -3 % ..\n  irradiance 700 W/m2 ..',
    ...names.map((name, index) => sweepOf(name, index, written[name])),
    more,
  ].join('\n\n');
  return evaluateText(text, files);
}

async function stepsFor(odd: Odd): Promise<string[]> {
  return nextSteps(await evaluated(odd)).map(({ text }) => text);
}

describe('a string that fails', () => {
  it('alone with a cold sensor: the sensor is doubted, and nothing is opened', async () => {
    const [step, ...others] = await stepsFor({ written: { S3: { cellTemperature: 31 } } });
    expect(others).toEqual([]);
    expect(step).toMatch(/^Doubt S3 .* 15 K warmer .* the other strings had 46\.0 degC .* 31\.0 degC/);
  });

  it('with the sensor in agreement: substrings are counted, and the search begins', async () => {
    const [step] = await stepsFor({ written: { S3: { data: 'two-substrings-out.csv' } } });
    expect(step).toMatch(
      /the half S3\/1-9; if it passes, the fault lies in S3\/10-18\. .*2 substrings of 54/,
    );
  });

  it('by one whole module of voltage: the modules are counted before they are searched', async () => {
    const [step] = await stepsFor({ written: { S3: { data: 'one-module-fewer.csv' } } });
    expect(step).toMatch(/^Doubt S3 .*Voc lacks 1\.0 modules: count the modules.*declared with 18/);
  });

  it('by most of its voltage: file and address are doubted', async () => {
    const [step] = await stepsFor({ written: { S3: { data: 'weak-string.csv' } } });
    expect(step).toMatch(/^Doubt S3 .*Voc is about that of 9 of the 18 modules/);
  });

  it('by current alone: the irradiance reading and soiling are doubted', async () => {
    const [step] = await stepsFor({ written: { S3: { irradiance: 960 } } });
    expect(step).toMatch(/modules of S3 are dirty and whether the irradiance is that of this sweep/);
  });

  it('without company to compare with: a second reading is asked for', async () => {
    const alone = await evaluated({ written: { S1: { cellTemperature: 31 } } });
    const sweeps = alone.sweeps.slice(0, 1);
    const [step] = nextSteps({ ...alone, sweeps, cases: casesOf(alone.campaign, sweeps) });
    expect(step!.text).toMatch(/^Doubt S1 .*second sensor/);
  });
});

describe('strings that are off alike', () => {
  it('in Voc, by a module too many declared: one step for all of them', async () => {
    const steps = await stepsFor({ declared: 19 });
    expect(steps).toHaveLength(1);
    expect(steps[0]).toMatch(/have in common first: Voc of 6 of 6 .* warmer than given.*count of modules/);
  });

  it('in Voc, by a module too few: said although all pass', async () => {
    const steps = await stepsFor({ declared: 17 });
    expect(steps).toHaveLength(1);
    expect(steps[0]).toMatch(/colder than given/);
  });

  it('in power: nameplate and reference device are doubted', async () => {
    const dim = Object.fromEntries(names.map((name) => [name, { irradiance: 960 }]));
    const steps = await stepsFor({ written: dim });
    expect(steps).toHaveLength(1);
    expect(steps[0]).toMatch(/6 of 6 fail alike \(Pmax about -6\.\d %\).*reference device/);
  });

  it('not where all is well', async () => {
    expect(await stepsFor({})).toEqual([]);
  });
});

describe('modules and sections', () => {
  it('a module that fails is replaced, also where its string passes by the tolerance', async () => {
    const steps = await stepsFor({ more: sweepOf('S3/11', 30, { data: 'weak-module.csv' }) });
    expect(steps).toEqual([expect.stringMatching(/^Replace S3\/11 .*S3 as counter-check/)]);
  });

  it('a section that fails is halved, not replaced, until a module in it is', async () => {
    const more = [
      sweepOf('S3', 20, { data: 'two-substrings-out.csv' }),
      sweepOf('S3/10-18', 30, { data: 'weak-section.csv' }),
    ].join('\n');
    const [step] = await stepsFor({ more });
    expect(step).toMatch(
      /pulls S3\/10-18 down .*the half S3\/15-18; if it passes, the fault lies in S3\/10-14/,
    );
    const [after] = await stepsFor({ more: `${more}\nreplace S3/11 at 2026-05-14 12:40\n` });
    expect(after).toMatch(/^Repeat the sweep of S3 as counter-check/);
  });
});

it('says the same of many strings once, and mends errors first', async () => {
  const steps = await stepsFor({ module: 'modul M\n  Pmax 400 W' });
  expect(steps).toEqual([
    expect.stringMatching(/^Mend the error/),
    expect.stringMatching(/^Complete S1, S2, S3, S4 and 2 others\. The string names no known module/),
  ]);
});

it('asks for a sweep where there is none', async () => {
  const bare = await evaluated({});
  expect(nextSteps({ ...bare, sweeps: [], cases: [], problems: [] })[0]!.text).toMatch(/^Write a sweep/);
});

describe('the reasons in the terminal', () => {
  const display = (file: string): string => file;

  it('of a string that fails, name the doubt too', async () => {
    const table = sweepTable(await evaluated({ written: { S3: { cellTemperature: 31 } } }), { display });
    expect(table).toMatch(/S3 at .*: Pmax deviates.*\n {3}Voc would fit a cell temperature of 46\.0 degC/);
  });

  it('stand under lines of 80 columns, the day said once', async () => {
    const lines = sweepTable(await evaluated({}), { display }).split('\n');
    expect(lines[0]).toMatch(/ {2}2026-05-14$/);
    expect(lines[3]).toMatch(/S1 {5}12:00 /);
    expect(Math.max(...lines.slice(2, 9).map((line) => line.length))).toBeLessThanOrEqual(80);
  });

  it('that many share are said once, with the span of the doubt', async () => {
    const table = sweepTable(await evaluated({ declared: 19, written: { S1: { cellTemperature: 43 } } }), {
      display,
    });
    expect(table.match(/Voc would fit cells/g)).toHaveLength(1);
    expect(table).toMatch(
      /S1, S2, S3, S4 and 2 others: Voc would fit cells (\d+) to (\d+) K warmer than given/,
    );
  });
});
