import { describe, expect, it } from 'vitest';
import {
  byMoment,
  isDoneBefore,
  latestOf,
  momentOf,
  momentOfTime,
  type Timed,
} from '../../src/campaign/moment.js';
import type { SiteRecord } from '../../src/campaign/model.js';
import { evaluateText } from '../evaluation/memoryFiles.js';

const london = { timezone: 'Europe/London' } as SiteRecord;
const at = (time: string | undefined): Timed => ({ time, target: { site: london } });

describe('a moment', () => {
  it('follows from the written offset, else from the zone', () => {
    const noon = Date.parse('2026-05-14T11:00:00Z');
    expect(momentOfTime({ iso: '2026-05-14T12:00:00' }, london)).toBe(noon);
    expect(momentOfTime({ iso: '2026-05-14T11:00:00', offsetMinutes: 0 }, london)).toBe(noon);
    expect(momentOf(at('2026-05-14T12:00:00'))).toBe(noon);
  });

  it('is by the clock of the site where its zone is not known', () => {
    const clock = Date.parse('2026-05-14T11:00:00Z');
    expect(momentOfTime({ iso: '2026-05-14T11:00:00' }, undefined)).toBe(clock);
    expect(momentOfTime({ iso: '2026-05-14T11:00:00', offsetMinutes: 60 }, undefined)).toBe(clock);
    const swept = { time: '2026-05-14T11:00:00+01:00', instant: clock - 3600_000, target: {} };
    expect(momentOf(swept)).toBe(clock);
  });

  it('is not had from what is no time', () => {
    expect(momentOf(at(undefined))).toBe(-Infinity);
    expect(momentOf(at('noon'))).toBe(-Infinity);
  });

  it('of a clock that showed it twice is that before the change', () => {
    // Summer time ended on 2026-10-25 at 02:00 in London; half past one came twice.
    expect(momentOf(at('2026-10-25T01:30:00'))).toBe(Date.parse('2026-10-25T01:30:00+01:00'));
  });
});

it('what was done at the very time of a measurement was done before it', () => {
  const done = { iso: '2026-05-14T11:00:00', offsetMinutes: 0 };
  expect(isDoneBefore(done, at('2026-05-14T12:00:00'))).toBe(true);
  expect(isDoneBefore(done, at('2026-05-14T11:59:00'))).toBe(false);
  expect(isDoneBefore(undefined, at('2026-05-14T12:00:00'))).toBe(false);
  expect(isDoneBefore(done, at(undefined))).toBe(false);
});

it('the latest is the last in time, and of equal times and without times the last of the list', () => {
  const [a, b, c, d] = [at(undefined), at('2026-05-14T12:00:00'), at('2026-05-14T12:00:00'), at('noon')];
  expect(latestOf([b, c, a, d])).toBe(c);
  expect(latestOf([a, d])).toBe(d);
  expect(latestOf([])).toBeUndefined();
  expect([b, a].sort(byMoment)).toEqual([a, b]);
});

it('a module is of the type that it had by the clock, whatever offset its replacement is written with', async () => {
  const { sweeps } = await evaluateText(`site s
  position 52.4 N, 0.26 E
  timezone Europe/London
module A
  Pmax 400 W
module B
  Pmax 410 W
string S
  modules 3 x A
sweep S/1 at 2026-05-14 11:40
replace S/1 at 2026-05-14 10:41Z
  type A -> B
sweep S/1 at 2026-05-14 11:42
`);
  expect(sweeps.map(({ target }) => target.module!.name.text)).toEqual(['A', 'B']);
});
