import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { middle, robustLimits, robustSpread } from '../../src/analysis/peerStatistics.js';
import { equal, evaluateRoof, strings } from './roof.js';

const like = [0.992, 0.99, 0.991, 0.993, 0.9915, 0.9905];

describe('robust statistics', () => {
  it('median and scaled MAD of an example worked by hand', () => {
    // By hand: 1, 1, 2, 2, 4, 6, 9 has median 2; the distances 1, 1, 0, 0, 2, 4, 7 have median 1.
    const found = robustSpread([1, 1, 2, 2, 4, 6, 9])!;
    expect(found.median).toBe(2);
    // The factor makes the median absolute deviation of normal values their standard deviation: 1/Phi^-1(3/4), and the upper
    // quartile of the standard normal distribution is 0.67449 (any table of it).
    expect(found.spread).toBeCloseTo(1 / 0.67449, 4);
  });

  it('are not moved by one wild value, and scale with the values', () => {
    const values = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 5, maxLength: 40 });
    fc.assert(
      fc.property(values, fc.double({ min: 100, max: 1e9, noNaN: true }), (some, wild) => {
        const [least, most] = [Math.min(...some), Math.max(...some)];
        expect(middle([...some, wild])).toBeLessThanOrEqual(most);
        expect(middle([...some, -wild])).toBeGreaterThanOrEqual(least);
        expect(robustSpread([...some, wild])!.spread).toBeLessThanOrEqual((most - least) / 0.6744 + 1e-12);
      }),
    );
  });

  it('give no limits for fewer than five', () => {
    expect(robustLimits(robustSpread([1, 2, 3, 4])!, 0.01)).toBeUndefined();
    expect(robustSpread([1, 2])).toBeUndefined();
  });
});

describe('like strings', () => {
  it('one that passes and differs from the others is flagged by the robust rule, and is no problem of the campaign', async () => {
    const { peerGroups, problems, sweeps } = await evaluateRoof({ sweeps: strings([...like, 0.965]) });
    expect(sweeps.every(({ analysis }) => analysis.verdict === 'pass')).toBe(true);
    const out = peerGroups[0]!.members.filter(({ standsOut }) => standsOut.length > 0);
    expect(out.map(({ string }) => string)).toEqual(['S7']);
    const isc = out[0]!.standsOut.find(({ parameter }) => parameter === 'isc')!;
    expect(isc.rule).toBe('robust');
    expect(isc.distance).toBeCloseTo(0.965 / 0.9915 - 1, 2);
    expect(problems.filter(({ id }) => id === 'string/unlike-peers')).toEqual([]);
  });

  it('an agreed spread decides where there is one, with a warning at the sweep', async () => {
    const criteria = '  Pmax -5 % ..\n  spread -4 % .. 4 %';
    const within = await evaluateRoof({ sweeps: strings([...like, 0.965]), criteria });
    expect(within.peerGroups[0]!.members.every(({ standsOut }) => standsOut.length === 0)).toBe(true);
    const tight = await evaluateRoof({
      sweeps: strings([0.99, 0.991, 0.965]),
      criteria: '  Pmax -5 % ..\n  spread -2 % ..',
    });
    const said = tight.problems.filter(({ id }) => id === 'string/unlike-peers');
    expect(said).toHaveLength(1);
    expect(said[0]!.severity).toBe('warning');
    expect(said[0]!.message).toMatch(
      /Pmax of S3 is -2\.\d % from the median of 3 like strings; -2\.0 % is agreed in criteria c/,
    );
  });

  it('of four none is flagged without an agreed spread; of two nothing is said', async () => {
    const four = await evaluateRoof({ sweeps: strings([0.99, 0.99, 0.99, 0.95]) });
    expect(four.peerGroups[0]!.members.every(({ standsOut }) => standsOut.length === 0)).toBe(true);
    expect((await evaluateRoof({ sweeps: strings([0.99, 0.95]) })).peerGroups).toEqual([]);
  });

  it('void sweeps and those not judged do not count, and of several the latest does', async () => {
    const sweeps = [
      ...strings(like),
      { address: 'S1', time: '2026-05-14 12:10', modules: equal(6, { level: 0.9 }), more: '  void "clamp"' },
      { address: 'S2', time: '2026-05-14 12:20', modules: equal(6, { level: 0.97 }) },
      {
        address: 'S3',
        time: '2026-05-14 12:30',
        modules: equal(6, { level: 0.9 }),
        light: { irradiance: 300, cellTemperature: 30 },
      },
    ];
    const { peerGroups } = await evaluateRoof({
      sweeps,
      criteria: '  Pmax -5 % ..\n  irradiance 700 W/m2 ..',
    });
    const { members } = peerGroups[0]!;
    expect(members.map(({ string }) => string)).toEqual(['S1', 'S2', 'S3', 'S4', 'S5', 'S6']);
    expect(members.filter(({ standsOut }) => standsOut.length > 0).map(({ string }) => string)).toEqual([
      'S2',
    ]);
  });

  it('strings of another module type are no peers', async () => {
    const other = `string S1 .. S3
  modules 6 x M
string S4 .. S6
  modules 6 x N
module N
  technology mono-Si
  cells 54
  Isc 13.9 A
  Voc 37.2 V
  Imp 13.09 A
  Vmp 31.2 V
  alpha 0.045 %/K
  beta -0.27 %/K`;
    const { peerGroups } = await evaluateRoof({ sweeps: strings(like), strings: other });
    expect(peerGroups.map(({ module, members }) => [module, members.length])).toEqual([
      ['M', 3],
      ['N', 3],
    ]);
  });

  it('all off alike is said once of the group: the sensor or the nameplate', async () => {
    const { peerGroups } = await evaluateRoof({
      sweeps: strings(like.map((level) => level - 0.04)),
      criteria: '  Pmax -8 % ..',
    });
    expect(peerGroups[0]!.shift).toMatch(
      /All 6 strings of M in plane south .* in Isc.*reference device.*nameplate/,
    );
    expect(peerGroups[0]!.members.every(({ standsOut }) => standsOut.length === 0)).toBe(true);
    const usual = await evaluateRoof({ sweeps: strings(like) });
    expect(usual.peerGroups[0]!.shift).toBeUndefined();
  });
});
