/** Rules that look at a whole campaign. All names, dates and points are invented. */
import { describe, expect, it } from 'vitest';
import { checks } from '../../src/checks/index.js';
import { monthsLater } from '../../src/checks/calibrationExpired.js';
import { csvOf, curveAt, moduleBlock, wideCriteria } from '../analysis/cecCampaign.js';
import { evaluateText } from '../evaluation/memoryFiles.js';

const at = { irradiance: 850, cellTemperature: 48 };
const csv = csvOf(curveAt('row 4', at, { series: 2 }));

const base = [
  'site fen\n  position 52.4012 N, 0.2618 E\n  timezone Europe/London',
  'plane south\n  tilt 12 deg\n  azimuth 174 deg',
  moduleBlock('row 4'),
  'string S\n  modules 2 x M\n  plane south',
  wideCriteria,
].join('\n\n');

const sweep = (when: string, data = 's.csv', more = '') =>
  `sweep S at ${when}\n  irradiance 850 W/m2\n  temperature 48 degC cell\n  data "${data}"${more && `\n  ${more}`}`;

async function problemsOf(...blocks: string[]) {
  const text = [base, ...blocks].join('\n\n');
  const { problems, sweeps } = await evaluateText(text, { 's.csv': csv, 't.csv': csv });
  const lines = text.split('\n');
  const found = problems.map(({ id, severity, range, message }) => {
    const { start, end } = range;
    return { id, severity, message, where: lines[start.line]!.slice(start.character, end.character) };
  });
  return { found, sweeps };
}

describe('calibration', () => {
  const tracer =
    'tracer T\n  calibrated 2025-05-14\n  interval 12 months\n  voltage ± 0.5 %\n  current ± 0.5 %';

  it('holds up to the last day of its interval', async () => {
    const { found } = await problemsOf(tracer, sweep('2026-05-14 11:42', 's.csv', 'with T'));
    expect(found).toEqual([]);
  });

  it('used the day after: one warning, at the calibration, whatever the number of sweeps; the verdict stays', async () => {
    const { found, sweeps } = await problemsOf(
      tracer,
      sweep('2026-05-15 11:42', 's.csv', 'with T'),
      sweep('2026-05-15 11:52', 't.csv', 'with T'),
    );
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({
      id: 'instrument/calibration-expired',
      severity: 'warning',
      where: '2025-05-14',
    });
    expect(found[0]!.message).toMatch(/T was used on 2026-05-15.*2026-05-14/);
    expect(sweeps.map(({ analysis }) => analysis.verdict)).toEqual(['pass', 'pass']);
  });

  it('later than the sweep is told too', async () => {
    const { found } = await problemsOf(tracer, sweep('2025-05-13 11:42', 's.csv', 'with T'));
    expect(found[0]!.message).toContain('before its calibration');
  });

  it('without an interval says nothing', async () => {
    const { found } = await problemsOf(
      tracer.replace('  interval 12 months\n', ''),
      sweep('2036-05-15 11:42', 's.csv', 'with T'),
    );
    expect(found).toEqual([]);
  });

  // Calendar arithmetic: the last day of a shorter month stands for the 29th to 31st (common practice, no source).
  it.each([
    ['2025-01-31', 1, '2025-02-28'],
    ['2024-01-31', 1, '2024-02-29'],
    ['2024-02-29', 12, '2025-02-28'],
    ['2025-11-30', 3, '2026-02-28'],
    ['2025-12-15', 24, '2027-12-15'],
  ])('%s and %i months: %s', (date, months, end) => expect(monthsLater(date, months)).toBe(end));
});

describe('what was copied and not changed', () => {
  it('the same data for two sweeps', async () => {
    const { found } = await problemsOf(sweep('2026-05-14 11:42'), sweep('2026-05-14 11:52'));
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ id: 'sweep/data-used-twice', severity: 'warning' });
    expect(found[0]!.where).toContain('s.csv');
  });

  it('the same address and time', async () => {
    const { found } = await problemsOf(sweep('2026-05-14 11:42'), sweep('2026-05-14 11:42', 't.csv'));
    expect(found.map(({ id }) => id)).toEqual(['sweep/repeated']);
    expect(found[0]!.where).toContain('sweep S at');
  });

  it('the same by another offset: one moment written twice', async () => {
    const { found } = await problemsOf(sweep('2026-05-14 11:42 +01:00'), sweep('2026-05-14 11:42', 't.csv'));
    expect(found.map(({ id }) => id)).toEqual(['sweep/repeated']);
  });
});

describe('the sun', () => {
  // London on 14 May: sunrise 5:10, sunset 20:45 British Summer Time (almanac values from memory, to some minutes).
  it.each(['2026-05-14 12:00', '2026-05-14 06:00', '2026-05-14 19:50'])('is up at %s', async (when) => {
    const { found } = await problemsOf(sweep(when));
    expect(found.map(({ id }) => id)).not.toContain('sweep/sun-below-horizon');
  });

  it.each(['2026-05-14 23:41', '2026-05-14 03:30'])('is down at %s', async (when) => {
    const { found } = await problemsOf(sweep(when));
    // A sun that is down is the whole mistake: nothing else about the light is said.
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ id: 'sweep/sun-below-horizon', severity: 'warning', where: when });
  });
});

it('every check has an id of its own and says what it looks for', () => {
  expect(new Set(checks.map(({ id }) => id)).size).toBe(checks.length);
  for (const { id, says } of checks) {
    expect(id).toMatch(/^[a-z]+\/[a-z-]+$/);
    expect(says).toMatch(/\.$/);
  }
});

describe('more than a nameplate can deliver', () => {
  it('points to the device where Voc is too high, to the light where only Isc is', async () => {
    const one = base.replace('modules 2 x M', 'modules 1 x M');
    const wrongCount = await evaluateText([one, sweep('2026-05-14 11:42')].join('\n\n'), { 's.csv': csv });
    const ids = wrongCount.problems.map(({ id }) => id);
    expect(ids).toEqual(['sweep/implausible-deviation']);
    expect(wrongCount.problems[0]!.message).toContain('count and type of modules');
    const dim = [base, sweep('2026-05-14 11:42').replace('850 W/m2', '420 W/m2')].join('\n\n');
    const wrongLight = await evaluateText(dim, { 's.csv': csv });
    const found = wrongLight.problems.find(({ id }) => id === 'sweep/implausible-deviation')!;
    expect(found.message).toContain('is the irradiance right');
  });
});
