import { describe, expect, it } from 'vitest';
import { evaluate, golden, problemsOf, type Small } from './smallCampaign.js';

const id = 'sweep/pin-shadow-disagrees';
const sweep = (time: string, ...more: string[]): string =>
  [
    `sweep A at ${time}`,
    '  irradiance 900 W/m2',
    '  data "a.csv"',
    ...more.map((line) => `  ${line}`),
    '',
  ].join('\n');
const conditionsOf = async (small: Small) => (await evaluate(small)).sweeps[0]!.analysis.conditions;

/** Worked example of NREL/TP-560-34302: incidence 25.187 deg at 12:30:30 at UTC-7, that is 13:30:30 on the clock. */
const noon = '2003-10-17 13:30:30';

describe('the shadow of a pin', () => {
  it('agrees with the worked example of NREL/TP-560-34302: 50 mm tan 25.187 deg = 23.5 mm', async () => {
    const sweeps = sweep(noon, 'pin-shadow 23.5 mm, pin 50 mm');
    const { incidence, incidenceSource, pinIncidence } = await conditionsOf({ sweeps });
    expect(incidenceSource).toBe('sun');
    expect(incidence).toBeCloseTo(25.187, 2);
    expect(pinIncidence).toBeCloseTo(25.17, 1);
    expect(await problemsOf(id, { sweeps })).toEqual([]);
  });

  it('is an angle where it was read as one, and of any unit of length', async () => {
    expect((await conditionsOf({ sweeps: sweep(noon, 'pin-shadow 25 deg') })).pinIncidence).toBe(25);
    expect(
      (await conditionsOf({ sweeps: sweep(noon, 'pin-shadow 5 cm, pin 50 mm') })).pinIncidence,
    ).toBeCloseTo(45, 9);
    expect((await conditionsOf({ sweeps: sweep(noon, 'pin-shadow 0 mm, pin 50 mm') })).pinIncidence).toBe(0);
  });

  it('doubts clock, zone and plane where it is more than 5 deg off', async () => {
    expect(await problemsOf(id, { sweeps: sweep(noon, 'pin-shadow 30.1 deg') })).toEqual([]);
    const [problem, ...others] = await problemsOf(id, { sweeps: sweep(noon, 'pin-shadow 30.3 deg') });
    expect(others).toEqual([]);
    expect(problem!.severity).toBe('warning');
    expect(problem!.message).toContain('30.3 deg off the normal of the plane');
    expect(problem!.message).toContain('give 25.2 deg');
    expect(problem!.message).toContain('tilt and azimuth of the plane');
  });

  it('names the hour that would explain it', async () => {
    // The worked example, 13:30:30 and 25.187 deg, by a clock that was an hour ahead.
    const [problem] = await problemsOf(id, {
      sweeps: sweep('2003-10-17 14:30:30', 'pin-shadow 25.2 deg'),
    });
    expect(problem!.message).toMatch(/would be plausible one hour earlier/);
  });

  it('is said once for a plane and a day', async () => {
    const one = (time: string) => sweep(time, 'pin-shadow 60 deg').replace('a.csv', `${time.slice(-2)}.csv`);
    const sweeps = ['2003-10-17 13:30', '2003-10-17 13:41', '2003-10-17 13:52', '2003-10-18 13:33']
      .map(one)
      .join('');
    const found = await problemsOf(id, { sweeps });
    expect(found).toHaveLength(2);
    expect(found[0]!.message).toMatch(/The same holds for 2 more sweeps in this plane on this day\.$/);
    expect(found[0]!.related).toHaveLength(2);
  });

  it('serves as the incidence where the sun or the plane is not known, and gates the verdict', async () => {
    const plane = '  mounting single-axis\ncriteria narrow\n  Pmax -50 % ..\n  incidence .. 45 deg';
    const judged = async (...more: string[]) =>
      (await evaluate({ plane, sweeps: sweep(noon, 'criteria narrow', ...more) })).sweeps[0]!.analysis;
    const without = await judged();
    expect(without.verdict).toBe('not judged');
    expect(without.reasons[0]!.code).toBe('condition-incidence-unknown');
    const within = await judged('pin-shadow 18 mm, pin 50 mm');
    expect(within.conditions.incidenceSource).toBe('pin');
    expect(within.conditions.incidence).toBeCloseTo(19.8, 1);
    expect(within.reasons.map(({ code }) => code)).not.toContain('condition-incidence-unknown');
    expect(within.verdict).not.toBe('not judged');
    const beyond = await judged('pin-shadow 60 mm, pin 50 mm');
    expect(beyond.reasons[0]!.code).toBe('condition-incidence');
    const nowhere = golden.replace(/.*position.*\n/, '');
    const { incidence, sunElevation } = await conditionsOf({
      site: nowhere,
      sweeps: sweep(noon, 'pin-shadow 20 deg'),
    });
    expect([incidence, sunElevation]).toEqual([20, undefined]);
  });

  it('has one error where it is not understood', async () => {
    for (const [written, expected] of [
      ['pin-shadow 18 mm', 'value/comma-missing'],
      ['pin-shadow 18 mm, 50 mm', 'sweep/pin-length-missing'],
      ['pin-shadow 18 mm, pin', 'value/missing'],
      ['pin-shadow 95 deg', 'value/out-of-range'],
      ['pin-shadow 18 mm, pin 0 mm', 'value/out-of-range'],
      ['pin-shadow 18', 'unit/missing'],
      ['pin-shadow 18 W', 'unit/wrong-dimension'],
    ] as const) {
      await expect(evaluate({ sweeps: sweep(noon, written) }), written).rejects.toThrow(expected);
      await expect(evaluate({ sweeps: sweep(noon, written) }), written).rejects.not.toThrow(/\n/);
    }
  });
});
