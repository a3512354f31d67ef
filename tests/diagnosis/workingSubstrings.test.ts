/**
 * A translation follows the diagnosis: a module that lost two of its three substrings translates by the coefficients of the one
 * that works. The curves come from the simulation in tests/faults/simulator, which shares no code with the tool; the true
 * value is the same damaged module simulated at STC.
 */
import { describe, expect, it } from 'vitest';
import { evaluateText } from '../evaluation/memoryFiles.js';
import { curveValues, labelOf } from '../faults/simulator/label.js';
import { asTheType, moduleTypes } from '../faults/simulator/moduleTypes.js';
import { soundModule, stringTable } from '../faults/simulator/plantString.js';
import { currentOf } from '../faults/simulator/substring.js';

const type = moduleTypes.KF108H;
const label = labelOf(type);
const damaged = {
  type,
  modules: [
    {
      ...soundModule(asTheType),
      shorted: new Map([
        [0, 0.005],
        [1, 0.005],
      ]),
    },
  ],
  resistance: 0,
};
const truth = curveValues(stringTable(damaged, 1000, 25));

function csvAt(irradiance: number, temperature: number): string {
  const table = stringTable(damaged, irradiance, temperature);
  const { voc } = curveValues(table);
  const rows = Array.from({ length: 120 }, (_, k) => {
    const voltage = (voc * k) / 119;
    return `${voltage.toFixed(4)},${Math.max(0, currentOf(table, voltage)).toFixed(4)}`;
  });
  return ['Voltage (V),Current (A)', ...rows, ''].join('\n');
}

const campaign = (substrings: string) => `plane south
  tilt 30 deg
  azimuth 174 deg

module ${type.name}
  technology mono-Si
  cells ${type.cells}
  ${substrings}
  Pmax ${label.pmax} W ± 3 %
  Isc ${label.isc} A
  Voc ${label.voc} V
  Imp ${label.imp} A
  Vmp ${label.vmp} V
  alpha ${label.alpha} %/K
  beta ${label.beta} %/K
  gamma ${label.gamma} %/K

string 1.01
  modules 18 x ${type.name}

criteria acceptance
  procedure IEC60891-1
  Pmax -5 % ..

sweep 1.01/11 at 2026-05-14 12:00
  irradiance 845 W/m2 ± 2 %
  temperature 48 degC cell ± 1 K
  data "m11.csv"
`;

async function translated(substrings: string) {
  const { sweeps } = await evaluateText(campaign(substrings), { 'm11.csv': csvAt(845, 48) });
  const [{ analysis, diagnosis }] = sweeps as [(typeof sweeps)[0]];
  return { analysis, diagnosis };
}

describe('a module with two of three substrings shorted, at 48 degC', () => {
  it('is found, and its Pmax at STC is the true one within 1 %', async () => {
    const { analysis, diagnosis } = await translated('substrings 3');
    expect(diagnosis?.causes[0]).toMatchObject({ code: 'substring-out', about: 'device' });
    expect(diagnosis?.substringsOut).toBe(2);
    expect(analysis.translated!.parameters.pmax! / truth.pmax).toBeCloseTo(1, 2);
    expect(Math.abs(analysis.translated!.parameters.pmax! / truth.pmax - 1)).toBeLessThan(0.01);
    expect(Math.abs(analysis.translated!.parameters.voc! / truth.voc - 1)).toBeLessThan(0.01);
  });

  it('is held against the nameplate of the whole module, and the reasons say by what it was translated', async () => {
    const { analysis } = await translated('substrings 3');
    expect(analysis.nameplate!.pmax).toBeCloseTo(label.pmax, 6);
    expect(analysis.deviation.pmax).toBeCloseTo(analysis.translated!.parameters.pmax! / label.pmax - 1, 10);
    expect(analysis.verdict).toBe('fail');
    expect(analysis.reasons).toContainEqual(
      expect.objectContaining({
        code: 'substrings-out',
        decisive: false,
        text: expect.stringMatching(
          /^The curve shows 2 of 3 substrings out of the current path: .* beta, Rs and kappa/,
        ),
      }),
    );
  });

  it('three substrings are assumed where the nameplate does not say, and that is said', async () => {
    const { analysis, diagnosis } = await translated('');
    expect(diagnosis?.substringsOut).toBe(2);
    expect(analysis.reasons.find(({ code }) => code === 'substrings-out')!.text).toContain(
      '3 a module assumed',
    );
  });
});
