import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { measurementWindow } from '../../src/analysis/measurementWindow.js';
import { clearSkyInPlane } from '../../src/physics/clearSkyInPlane.js';
import { angleOfIncidence, sunAt, sunTimes } from '../../src/physics/sunPosition.js';
import { readTable } from '../physics/checkData.js';
import { campaignOf, plant, type Plant } from './plantRecords.js';

const windowOf = (given: Plant, date: string) => {
  const { site, plane, criteria } = plant(given);
  return measurementWindow(site, plane, criteria, date);
};
const known = (given: Plant, date: string) => {
  const window = windowOf(given, date);
  if (window.kind !== 'known') throw new Error(window.reason);
  return window;
};

describe('worked example of NREL/TP-560-34302 as the end of a window', () => {
  // At 12:30:30 the incidence on the tilted surface is 25.187000 degrees (see tests/physics/data/README.md), and it grows: the
  // sun has passed the normal of a plane that faces 10 degrees east of south.
  const values = Object.fromEntries(
    readTable('spa-example.csv').map((row) => [row['symbol']!, Number(row['value'])]),
  ) as Record<string, number>;
  const site: Plant = {
    position: '39.742476 N, 105.1786 W',
    timezone: 'America/Denver',
    tilt: values['slope']!,
    azimuth: 180 + values['azm_rot']!,
  };

  it('ends at the minute before the example with its incidence as the greatest', () => {
    // The zone kept daylight saving time on that day (UTC-6): 12:30:30 at UTC-7 is 13:30:30 on the clock.
    const limit = values['incidence']!.toFixed(4);
    const { intervals } = known({ ...site, criteria: `  incidence .. ${limit} deg` }, '2003-10-17');
    expect(intervals).toHaveLength(1);
    expect(intervals[0]!.end.time).toBe('2003-10-17T13:30:00-06:00');
    expect(Math.abs(intervals[0]!.end.incidence - values['incidence']!)).toBeLessThan(0.1);
    expect(intervals[0]!.end.irradiance).toBeGreaterThan(700);
  });

  it('with no conditions, spans from sunrise to sunset where the plane lies flat', () => {
    // 07:12:43 and 18:20:19 on the clock of that day; the disc's centre, of which a window speaks, rises later by some minutes.
    const { intervals } = known({ ...site, tilt: 0, criteria: '  decision simple' }, '2003-10-17');
    const clock = (time: string) => Number(time.slice(11, 13)) * 60 + Number(time.slice(14, 16));
    expect(clock(intervals[0]!.start.time) - (7 * 60 + 12.7)).toBeGreaterThan(0);
    expect(clock(intervals[0]!.start.time) - (7 * 60 + 12.7)).toBeLessThan(6);
    expect(18 * 60 + 20.3 - clock(intervals[0]!.end.time)).toBeGreaterThan(0);
    expect(18 * 60 + 20.3 - clock(intervals[0]!.end.time)).toBeLessThan(6);
  });
});

describe('windows', () => {
  it('are in the time of the site, with the offset of the day', () => {
    const summer = known({}, '2026-05-14');
    expect(summer.intervals).toHaveLength(1);
    expect(summer.intervals[0]!.start.time).toMatch(/^2026-05-14T\d\d:\d\d:00\+01:00$/);
    expect(summer.noon.time).toMatch(/^2026-05-14T12:5\d:\d\d\+01:00$/);
    const spring = known({ criteria: '  incidence .. 80 deg' }, '2026-02-20');
    expect(spring.intervals[0]!.start.time).toMatch(/^2026-02-20T.*\+00:00$/);
  });

  it('are several where a flat plane at the tropic loses the sun around noon', () => {
    const { intervals } = known(
      {
        position: '0.0 N, 30.0 E',
        timezone: 'Africa/Kampala',
        tilt: 0,
        azimuth: 0,
        criteria: '  incidence 20 deg .. 60 deg',
      },
      '2026-03-20',
    );
    expect(intervals).toHaveLength(2);
    expect(intervals[0]!.end.instant).toBeLessThan(intervals[1]!.start.instant);
    expect(intervals[0]!.end.incidence).toBeGreaterThanOrEqual(20);
  });

  it('say why there is none', () => {
    expect(known({}, '2026-12-21').whyNone).toMatch(
      /incidence falls to \d+ deg at 1[12]:\d\d and no lower; at most 45 deg.*irradiance reaches \d+ W\/m2 at 1[12]:\d\d and no more; at least 700 W\/m2/,
    );
    const north = { position: '75 N, 20 E', timezone: 'Arctic/Longyearbyen' };
    expect(known(north, '2026-12-21').whyNone).toBe('The sun does not rise on this day.');
    expect(known({ tilt: 90, azimuth: 0 }, '2026-12-21').whyNone).toBe(
      'The sun does not reach the front of the plane.',
    );
    // In the morning the plane faces the sun, which is still low; at noon it is high, and beside the plane.
    const never = known(
      { tilt: 60, azimuth: 70, criteria: '  irradiance .. 400 W/m2\n  incidence .. 20 deg' },
      '2026-06-21',
    );
    expect(never.whyNone).toBe(
      'Incidence and expected irradiance satisfy the criteria at different times, never together.',
    );
  });

  it('stay unknown, with the reason, where something is missing', () => {
    const { site, plane, criteria } = plant({});
    const bare = campaignOf('site s\n  position 1 N, 1 E\nplane p\n  mounting single-axis\n');
    const reason = (...[of, on, date]: [typeof site | undefined, typeof plane | undefined, string]) => {
      const window = measurementWindow(of, on, criteria, date);
      return window.kind === 'unknown' ? window.reason : undefined;
    };
    expect(reason(undefined, plane, '2026-05-14')).toMatch(/site block/);
    expect(reason(bare.sites.get('s')!.record, plane, '2026-05-14')).toMatch(/gives no timezone/);
    expect(reason(site, undefined, '2026-05-14')).toMatch(/plane block/);
    expect(reason(site, bare.planes.get('p')!.record, '2026-05-14')).toMatch(/It turns/);
    expect(reason(site, plane, '2026-02-30')).toMatch(/is not a date/);
    expect(reason(site, plane, 'today')).toMatch(/is not a date/);
  });
});

it('a window keeps its conditions and a minute beyond either end does not, also on days of clock changes', () => {
  const place = fc.record({
    latitude: fc.integer({ min: -65, max: 65 }),
    tilt: fc.integer({ min: 0, max: 60 }),
    azimuth: fc.integer({ min: 0, max: 359 }),
    least: fc.integer({ min: 100, max: 900 }),
    most: fc.integer({ min: 20, max: 80 }),
    date: fc.constantFrom('2026-01-15', '2026-03-29', '2026-06-21', '2026-10-25'),
  });
  fc.assert(
    fc.property(place, ({ latitude, tilt, azimuth, least, most, date }) => {
      const given: Plant = {
        position: `${Math.abs(latitude)} ${latitude < 0 ? 'S' : 'N'}, 10 E`,
        timezone: 'Europe/Berlin',
        tilt,
        azimuth,
        criteria: `  irradiance ${least} W/m2 ..\n  incidence .. ${most} deg`,
      };
      const window = known(given, date);
      expect(window.whyNone === undefined).toBe(window.intervals.length > 0);
      const transit = sunTimes(Date.parse(`${date}T00:00:00+01:00`), latitude, 10).transit;
      expect(Math.abs(window.noon.instant - transit)).toBeLessThan(60_000);
      for (const { start, end } of window.intervals) {
        expect(start.instant).toBeLessThanOrEqual(end.instant);
        expect(start.time.slice(0, 10)).toBe(date);
        for (const moment of [start, end]) {
          expect(moment.irradiance).toBeGreaterThanOrEqual(least);
          expect(moment.incidence).toBeLessThanOrEqual(most);
        }
        for (const beyond of [start.instant - 60_000, end.instant + 60_000]) {
          const sun = sunAt(beyond, latitude, 10);
          const bright = clearSkyInPlane(sun, tilt, azimuth) >= least;
          expect(bright && angleOfIncidence(tilt, azimuth, sun) <= most).toBe(false);
        }
      }
    }),
    { numRuns: 60 },
  );
});
