import { describe, expect, it } from 'vitest';
import { evaluate, problemsOf } from './smallCampaign.js';

const sweep = (time: string, rear?: number): string =>
  `sweep A at 2003-10-17 ${time}\n  irradiance 800 W/m2\n  data "${time}.csv"\n` +
  (rear === undefined ? '' : `  rear ${rear} W/m2\n`);
const module = '  technology mono-Si\n  bifaciality 70 %';

describe('equivalent irradiance of a bifacial module, IEC TS 60904-1-2: G + phi Grear (from memory, not confirmed)', () => {
  const irradianceOf = async (of: string | undefined, rear?: number) =>
    (await evaluate({ module: of, sweeps: sweep('13:30', rear) })).sweeps[0]!.analysis.conditions.irradiance;

  it('adds the rear reading times the bifaciality', async () => {
    // By hand: 800 + 0.70 x 100.
    expect(await irradianceOf(module, 100)).toBeCloseTo(870, 10);
    expect(await irradianceOf('  bifaciality 0.9', 200)).toBeCloseTo(980, 10);
  });

  it('is the front irradiance where the rear is dark, not read, or the module has none', async () => {
    expect(await irradianceOf(module, 0)).toBe(800);
    expect(await irradianceOf(module)).toBe(800);
    expect(await irradianceOf(undefined, 100)).toBe(800);
  });

  it('lowers the translated current in proportion', async () => {
    const isc = async (rear?: number) =>
      (await evaluate({ module, sweeps: sweep('13:30', rear) })).sweeps[0]!.analysis.translated!.parameters
        .isc!;
    // Isc scales with irradiance (IEC 60891); the temperature term is the same for both and small beside it.
    expect((await isc(0)) / (await isc(100))).toBeCloseTo(870 / 800, 2);
  });
});

describe('rear readings', () => {
  const missing = 'sweep/rear-irradiance-missing';
  const unused = 'sweep/rear-irradiance-unused';

  it('that are missing on a bifacial module are said once for the module type', async () => {
    const found = await problemsOf(missing, { module, sweeps: sweep('13:30') + sweep('13:40') });
    expect(found.map(({ severity }) => severity)).toEqual(['warning']);
    expect(found[0]!.message).toContain('Module M1 is bifacial (70 %)');
    expect(found[0]!.message).toContain('`rear 0 W/m2` where the rear was covered');
  });

  it('that are there, or declared dark, are not asked for', async () => {
    const given = sweep('13:30', 90) + sweep('13:40', 0);
    expect(await problemsOf(missing, { module, sweeps: given })).toEqual([]);
    expect(await problemsOf(missing, { module: '  bifaciality 0 %', sweeps: sweep('13:30') })).toEqual([]);
    expect(await problemsOf(missing, { sweeps: sweep('13:30') })).toEqual([]);
  });

  it('that the module cannot use are said once, at the reading', async () => {
    const found = await problemsOf(unused, { sweeps: sweep('13:30', 90) + sweep('13:40', 90) });
    expect(found).toHaveLength(1);
    expect(found[0]!.message).toContain('module M1 declares no bifaciality');
    expect(await problemsOf(unused, { module, sweeps: sweep('13:30', 90) })).toEqual([]);
  });
});
