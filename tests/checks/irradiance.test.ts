import { describe, expect, it } from 'vitest';
import { checks } from '../../src/checks/index.js';
import { clearSkyInPlane } from '../../src/physics/clearSkyInPlane.js';
import { planeIrradianceBound } from '../../src/physics/sunPosition.js';
import { evaluate, golden, problemsOf, type Small } from './smallCampaign.js';

const above = 'sweep/irradiance-above-clear-sky';
const below = 'sweep/sun-below-horizon';
const sweepAt = (time: string, irradiance: number, more = ''): string =>
  `sweep A at ${time}\n  irradiance ${irradiance} W/m2\n  data "${time.slice(-5)}.csv"${more}\n`;
const idsOf = async (small: Small) =>
  (await evaluate(small)).problems.map(({ id }) => id).filter((id) => id === above || id === below);

it('every check says what it looks for, under an id of its own', () => {
  expect(new Set(checks.map(({ id }) => id)).size).toBe(checks.length);
  for (const { id, says } of checks) {
    expect(id).toMatch(/^[a-z]+\/[a-z-]+$/);
    expect(says).toMatch(/^[A-Z].*\.$/);
  }
});

describe('the worked example of NREL/TP-560-34302: 12:30:30 at UTC-7, elevation 39.888 deg, incidence 25.187 deg', () => {
  // On the clock of the zone, which kept daylight saving time: 13:30:30. Sunset: 17:20:19 at UTC-7, that is 18:20:19.
  it('lets a reading of a clear day stand', async () => {
    expect(await idsOf({ sweeps: sweepAt('2003-10-17 13:30', 980) })).toEqual([]);
  });

  it('catches a reading that no sky gives: more than the irradiance outside the atmosphere', async () => {
    const [problem, ...others] = await problemsOf(above, { sweeps: sweepAt('2003-10-17 13:30', 1400) });
    expect(others).toEqual([]);
    expect(problem!.severity).toBe('warning');
    expect(problem!.message).toMatch(
      /^1400 W\/m2 is more than the \d+ W\/m2 that this plane can get with the sun 40 deg above/,
    );
    expect(problem!.message).toContain(
      'Check the clock, the time zone, tilt and azimuth of the plane, and the sensor.',
    );
  });

  it('says that the time is likely UTC where the same moment was written as 19:30', async () => {
    const sweeps = sweepAt('2003-10-17 19:30', 980);
    expect(await idsOf({ sweeps })).toEqual([below]);
    const [problem] = await problemsOf(below, { sweeps });
    expect(problem!.message).toContain('plausible if the time were UTC (6 h earlier)');
    expect(problem!.message).toContain('likely a wrong time zone or clock');
  });

  it('says that an hour would explain it where the sun is up, but low', async () => {
    const [problem] = await problemsOf(above, { sweeps: sweepAt('2003-10-17 17:50', 300) });
    expect(problem!.message).toMatch(/plausible .*one hour earlier/);
    expect(problem!.message).not.toContain('Check the clock');
  });

  it('says that am and pm may be exchanged where nothing nearer fits', async () => {
    const greenwich = golden.replace('105.1786 W', '0.0 E').replace('America/Denver', 'Europe/London');
    const [problem] = await problemsOf(below, {
      site: greenwich,
      sweeps: sweepAt('2003-01-17 23:40', 800),
    });
    expect(problem!.message).toContain('twelve hours earlier (am for pm)');
  });
});

describe('a reading above the bound', () => {
  it('is not looked for in void sweeps, nor without place or time zone', async () => {
    const sweeps = sweepAt('2003-10-17 13:30', 1400);
    expect(await idsOf({ sweeps: sweepAt('2003-10-17 13:30', 1400, '\n  void "Cloud."') })).toEqual([]);
    expect(await idsOf({ site: '  timezone America/Denver', sweeps })).toEqual([]);
    expect(await idsOf({ site: golden.replace(/ {2}timezone.*/, ''), sweeps })).toEqual([]);
  });

  it('counts the front alone on a bifacial module', async () => {
    const module = '  bifaciality 80 %';
    const sweeps = sweepAt('2003-10-17 13:30', 1000, '\n  rear 400 W/m2');
    expect(await idsOf({ module, sweeps })).toEqual([]);
  });

  it('on a tracker of unknown position is held against a plane that faces the sun', async () => {
    const plane = '  mounting single-axis';
    expect(await idsOf({ plane, sweeps: sweepAt('2003-10-17 16:00', 900) })).toEqual([]);
    const [problem] = await problemsOf(above, { plane, sweeps: sweepAt('2003-10-17 16:00', 1500) });
    expect(problem!.message).toContain('a plane that faces the sun');
  });

  it('is said once for a plane and a day, with the number of the others', async () => {
    const volts = Array.from({ length: 37 }, (_, index) => index);
    const rows = ['13:30', '13:40', '13:50'].flatMap((time) =>
      volts.map((voltage) => `A,2003-10-17 ${time},1400,40,${voltage},${(36 - voltage) / 3}`),
    );
    const files = { 't.csv': ['string,time,G (W/m2),T (degC),V (V),I (A)', ...rows, ''].join('\n') };
    const sweeps = 'sweeps from "t.csv"\n  address "string"\n  time "time"\n';
    const found = await problemsOf(above, { sweeps, files });
    expect(found).toHaveLength(1);
    expect(found[0]!.message).toMatch(/The same holds for 2 more sweeps in this plane on this day\.$/);
    expect(found[0]!.message).toMatch(/^Sweep A: 1400 W\/m2/);
  });
});

it('the clear sky that is expected never passes the bound that is held against readings', () => {
  for (let elevation = 1; elevation <= 90; elevation += 3.7) {
    for (const tilt of [0, 15, 30, 60, 90]) {
      for (const azimuth of [0, 60, 120, 180]) {
        for (const distance of [0.983, 1, 1.017]) {
          const sun = { elevation, zenith: 90 - elevation, azimuth: 180, distance };
          expect(clearSkyInPlane(sun, tilt, azimuth)).toBeLessThan(planeIrradianceBound(sun, tilt, azimuth));
        }
      }
    }
  }
});
