import path from 'node:path';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Composition } from '../../src/cases/composition.js';
import {
  seriesCurve,
  seriesPart,
  seriesVoltage,
  unscaled,
  usualBypass,
} from '../../src/cases/seriesParts.js';
import { NodeFiles } from '../../src/cli/nodeFiles.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import { fallingCurve, voltageOfFalling } from '../../src/physics/fallingCurve.js';
import { characteristicPoints, inSeriesParallel, sampleCurve } from '../../src/physics/singleDiode.js';
import { plausibleDiode } from '../physics/plausibleDiode.js';
import { inMemory, MemoryFiles } from '../evaluation/memoryFiles.js';
import { curveOf, equal, evaluateRoof, filesOf, largestPower, usualLight, type Measured } from './roof.js';

describe('a measured curve as voltage over current', () => {
  const points = fc.array(
    fc.tuple(fc.double({ min: 0.01, max: 5, noNaN: true }), fc.double({ min: -1, max: 15, noNaN: true })),
    {
      minLength: 1,
      maxLength: 60,
    },
  );

  it('falls strictly in current and rises in voltage, whatever the noise, and keeps the mean current', () => {
    fc.assert(
      fc.property(points, (steps) => {
        let at = 0;
        const voltage = Float64Array.from(steps, ([step]) => (at += step));
        const current = Float64Array.from(steps, ([, i]) => i);
        const falling = fallingCurve({ voltage, current });
        for (let k = 1; k < falling.current.length; k++) {
          expect(falling.current[k]!).toBeLessThan(falling.current[k - 1]!);
          expect(falling.voltage[k]!).toBeGreaterThan(falling.voltage[k - 1]!);
        }
        expect(Math.max(...falling.current)).toBeLessThanOrEqual(Math.max(...current) + 1e-9);
        expect(Math.min(...falling.current)).toBeGreaterThanOrEqual(Math.min(...current) - 1e-9);
      }),
    );
  });

  it('is the curve itself where that is in order', () => {
    fc.assert(
      fc.property(plausibleDiode(), (model) => {
        const curve = sampleCurve(model, 60);
        const falling = fallingCurve(curve);
        for (let k = 1; k < 59; k++) {
          const back = voltageOfFalling(falling, curve.current[k]!);
          expect(Math.abs(back - curve.voltage[k]!)).toBeLessThan(1e-6 * curve.voltage[59]!);
        }
      }),
    );
  });
});

describe('parts in series', () => {
  const part = (model: Parameters<typeof sampleCurve>[0]) =>
    seriesPart({ curve: fallingCurve(sampleCurve(model, 400)), substrings: 3, addedResistance: 0 });

  it('a string of equal modules is so many times the module', () => {
    fc.assert(
      fc.property(plausibleDiode(), fc.integer({ min: 1, max: 24 }), (model, count) => {
        const { isc, pmax, voc } = characteristicPoints(inSeriesParallel(model, count, 1));
        const parts = Array.from({ length: count }, () => part(model));
        const curve = seriesCurve({ parts, cable: 0, strongest: 1.02 * isc }, 200);
        expect(curve.voltage.at(-1)! / voc).toBeCloseTo(1, 6);
        expect(largestPower(curve) / pmax).toBeCloseTo(1, 3);
      }),
      { numRuns: 30 },
    );
  });

  it('voltages add at equal current, less the drop in the cable', () => {
    fc.assert(
      fc.property(
        fc.array(plausibleDiode(), { minLength: 1, maxLength: 6 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 2, noNaN: true }),
        (models, share, cable) => {
          const current = share * Math.max(...models.map((model) => characteristicPoints(model).isc));
          const parts = models.map(part);
          const sum = parts.reduce((voltage, each) => voltage + each(current), -current * cable);
          expect(seriesVoltage({ parts, cable, strongest: 20 }, current)).toBeCloseTo(sum, 9);
        },
      ),
    );
  });

  it('a part driven beyond its own current is held by its bypass diodes', () => {
    const weak = seriesPart(
      { curve: { voltage: [3, 12], current: [8, 0] }, substrings: 2, addedResistance: 0.6 },
      unscaled,
      usualBypass,
    );
    expect(weak(4)).toBeCloseTo(7.5, 9);
    // Above what was measured: two diodes, and half of a resistance that may lie inside or outside of them.
    expect(weak(10)).toBeCloseTo(-2 * 0.5 - 0.5 * 0.6 * 10, 9);
    const negative = seriesPart({
      curve: { voltage: [-9, 12], current: [9, 0] },
      substrings: 1,
      addedResistance: 0,
    });
    expect(negative(9)).toBe(-0.5);
  });
});

const composedOf = (evaluation: Evaluation, string: string): Composition => {
  const found = evaluation.compositions.get(string);
  if (found?.kind !== 'composed') throw new Error(found?.reason ?? 'nothing composed');
  return found;
};

describe('the demo', () => {
  let found: Composition;
  beforeAll(async () => {
    const folder = fileURLToPath(new URL('../../examples/harrow-fen', import.meta.url));
    const evaluation = await new Workbook(new NodeFiles(folder)).evaluate(
      path.join(folder, 'campaign.sweepbook'),
    );
    found = composedOf(evaluation, '1.03');
  });

  it('module 11 explains what 1.03 lacks, within an uncertainty that means something', () => {
    expect(found.explains).toBe('yes');
    expect(found.costs.map(({ address, substringsOut }) => [address, substringsOut])).toEqual([
      ['1.03/11', 2],
    ]);
    expect(found.unexplained.atSweep.uncertainty).toBeLessThan(0.2 * found.deficit.atSweep.value);
    expect(found.level.source).toBe('cleared');
    expect(found.level.from).toEqual(['1.03/1-9', '1.03/10', '1.03/12']);
  });

  it('what it costs agrees with the same damage in the physics, composed apart from any measurement', () => {
    const light = { irradiance: 812 * 1.003, cellTemperature: 44.1 + 0.25 };
    const sound = { level: 0.993 };
    const damaged = { lostSubstrings: 2, weakSubstrings: 1, photocurrentShare: 0.85, addedResistance: 0.608 };
    const healthy = largestPower(curveOf(equal(18, sound), light, 0.225));
    const truth = healthy - largestPower(curveOf([...equal(17, sound), damaged], light, 0.225));
    const { value, uncertainty } = found.costs[0]!.atSweep;
    expect(Math.abs(value - truth)).toBeLessThan(uncertainty);
    expect(Math.abs(found.deficit.atSweep.value - truth)).toBeLessThan(found.deficit.atSweep.uncertainty);
  });

  it('the counter-check reads what was forecast', () => {
    const { read, pmax } = found.forecast;
    expect(read?.agrees).toBe(true);
    expect(Math.abs(read!.pmax - pmax.value)).toBeLessThan(read!.difference.uncertainty);
    expect(read!.difference.uncertainty).toBeLessThan(pmax.uncertainty);
    expect(found.text).toMatch(/that explains it, within the uncertainty.*which agrees\.$/);
  });

  it('its curve comes to the power that was measured', () => {
    const composed = largestPower(found.curve);
    const measured = found.opening.analysis.measured!.parameters.pmax!;
    expect(Math.abs(composed - measured)).toBeLessThan(found.unexplained.atSweep.uncertainty);
    expect(largestPower(found.healthy)).toBeGreaterThan(composed);
  });
});

describe('other strings', () => {
  const lost = { lostSubstrings: 2 };
  const withLost = (count: number) => [...equal(count), ...equal(6 - count, lost)];
  const whole = (modules: Measured['modules']): Measured => ({
    address: 'S1',
    time: '2026-05-14 11:00',
    modules,
  });
  const single = (position: number, modules: Measured['modules'], light = usualLight): Measured => ({
    address: `S1/${position}`,
    time: `2026-05-14 11:${20 + position}`,
    modules,
    light,
  });

  it('two damaged modules of which one is known explain it in part; both explain it', async () => {
    const one = composedOf(
      await evaluateRoof({ sweeps: [whole(withLost(4)), single(1, [{}]), single(5, [lost])] }),
      'S1',
    );
    expect(one.explains).toBe('in part');
    expect(one.unexplained.atSweep.value / one.explained.atSweep.value).toBeCloseTo(1, 1);
    const both = composedOf(
      await evaluateRoof({
        sweeps: [whole(withLost(4)), single(1, [{}]), single(5, [lost]), single(6, [lost])],
      }),
      'S1',
    );
    expect(both.explains).toBe('yes');
    expect(both.costs).toHaveLength(2);
  });

  it('a damaged module measured in other light and heat is brought to those of the string by what still works of it', async () => {
    const sweeps = [
      whole(withLost(5)),
      single(1, [{}]),
      single(6, [lost], { irradiance: 700, cellTemperature: 33 }),
    ];
    const found = composedOf(await evaluateRoof({ sweeps }), 'S1');
    expect(found.explains).toBe('yes');
    // With the temperature coefficients of the whole module it would be off by twice beta over 12 K.
    const truth = largestPower(curveOf(equal(6))) - largestPower(curveOf(withLost(5)));
    expect(Math.abs(found.explained.atSweep.value - truth) / truth).toBeLessThan(0.02);
  });

  it('a module with little current is held by its diodes, and costs what the physics says', async () => {
    const weak = { level: 0.5 };
    const modules = [...equal(5), weak];
    const found = composedOf(
      await evaluateRoof({ sweeps: [whole(modules), single(1, [{}]), single(6, [weak])] }),
      'S1',
    );
    const truth = largestPower(curveOf(equal(6))) - largestPower(curveOf(modules));
    const { value, uncertainty } = found.costs[0]!.atSweep;
    expect(Math.abs(value - truth)).toBeLessThan(uncertainty);
    expect(found.explains).toBe('yes');
  });

  it('without cleared parts and peers the nameplate stands for the rest, and the uncertainty says so', async () => {
    const bare = composedOf(await evaluateRoof({ sweeps: [whole(withLost(5)), single(6, [lost])] }), 'S1');
    const cleared = composedOf(
      await evaluateRoof({ sweeps: [whole(withLost(5)), single(1, [{}]), single(6, [lost])] }),
      'S1',
    );
    expect(bare.level.source).toBe('nameplate');
    expect(bare.deficit.atSweep.uncertainty).toBeGreaterThan(1.5 * cleared.deficit.atSweep.uncertainty);
  });

  it('a section whose modules were not swept one by one stands as a whole', async () => {
    const section = { address: 'S1/4-6', time: '2026-05-14 11:30', modules: [{}, lost, {}] };
    const clear = { address: 'S1/1-3', time: '2026-05-14 11:34', modules: equal(3) };
    const found = composedOf(
      await evaluateRoof({ sweeps: [whole([...equal(4), lost, {}]), section, clear] }),
      'S1',
    );
    expect(found.costs.map(({ address }) => address)).toEqual(['S1/4-6']);
    expect(found.explains).toBe('yes');
  });

  it('a forecast names its counter-check where that stands after an edit that moved it alone', async () => {
    const sweeps = [
      whole(withLost(5)),
      single(1, [{}]),
      single(6, [lost]),
      { ...whole(equal(6)), time: '2026-05-14 13:00' },
    ];
    const name = 'campaign.sweepbook';
    const blocks = 'replace S1/6 at 2026-05-14 12:00\n  serial "1" -> "2"';
    const files = new MemoryFiles(filesOf({ sweeps, blocks }));
    const workbook = new Workbook(files);
    const before = await workbook.evaluate(inMemory(name));
    const check = 'sweep S1 at 2026-05-14 13:00';
    const text = filesOf({ sweeps, blocks })[name]!;
    workbook.setText(inMemory(name), text.replace(check, `note S2 "Dusty."\n${check}`));
    const after = await workbook.evaluate(inMemory(name));
    const [was, is] = [before, after].map((each) => composedOf(each, 'S1').forecast.read!.sweep);
    expect(is!.place.range.start.line).toBe(was!.place.range.start.line + 1);
    expect(after.sweeps).toContain(is);
  });

  it('the offset of a written time tells what was measured before a replacement', async () => {
    // 11:30 UTC is half past twelve by the clock of the site, so S1/6 was swept before.
    const evaluation = await evaluateRoof({
      sweeps: [
        whole(withLost(5)),
        single(1, [{}]),
        { ...single(6, [lost]), time: '2026-05-14 12:00' },
        { ...whole(equal(6)), time: '2026-05-14 13:00' },
      ],
      blocks: 'replace S1/6 at 2026-05-14 11:30Z\n  serial "1" -> "2"',
    });
    const found = composedOf(evaluation, 'S1');
    expect(found.costs.map(({ address }) => address)).toEqual(['S1/6']);
    expect(found.forecast.read!.sweep.time).toBe('2026-05-14T13:00:00+01:00');
  });

  it('what was measured after a replacement does not speak of what failed before it', async () => {
    const replaced = 'replace S1/6 at 2026-05-14 12:00\n  serial "1" -> "2"';
    const sweeps = [
      whole(withLost(5)),
      { address: 'S1/6', time: '2026-05-14 12:10', modules: [{}] },
      { address: 'S1/1-5', time: '2026-05-14 12:15', modules: equal(5) },
    ];
    const evaluation = await evaluateRoof({ sweeps, blocks: replaced });
    expect(evaluation.compositions.get('S1')).toMatchObject({ kind: 'none' });
  });

  it('says nothing of strings that passed, and why of those that cannot be composed', async () => {
    const sound = await evaluateRoof({ sweeps: [whole(equal(6)), single(1, [{}])] });
    expect(sound.compositions.size).toBe(0);
    const parallel = await evaluateRoof({
      strings: 'string S1\n  modules 6 x M\n  parallel 2',
      sweeps: [whole(equal(6, { level: 1 })), single(6, [lost])],
    });
    expect(parallel.compositions.get('S1')).toMatchObject({
      kind: 'none',
      reason: expect.stringContaining('parallel') as string,
    });
  });
});
