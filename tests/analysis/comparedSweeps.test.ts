/** What two sweeps have in common cancels in their difference (JCGM 100:2008, 5.2.2, note 1). The figures are invented. */
import { describe, expect, it } from 'vitest';
import { differenceUncertainty } from '../../src/analysis/comparedSweeps.js';
import { evaluateText } from '../evaluation/memoryFiles.js';
import { csvOf, curveAt, moduleBlock, sweepBlock, wideCriteria } from './cecCampaign.js';

const at = { irradiance: 800, cellTemperature: 45 };
const instruments = `tracer T
  voltage ± 0.5 %
  current ± 0.5 %

reference R
  irradiance ± 2 %
  temperature ± 1 K`;

/** Two equal sweeps of one string with the instruments R and T; the lines to their budgets are as large. */
async function differences(more: { readonly module?: string; readonly sweep?: readonly string[] }) {
  const sweep = (time: string) =>
    sweepBlock('S', at, ['with T, R', ...(more.sweep ?? [])]).replace(/ at .*/, ` at 2026-05-14 ${time}`);
  const text = [
    moduleBlock('row 4') + (more.module ?? ''),
    'string S\n  modules 4 x M',
    instruments,
    wideCriteria,
    sweep('11:42'),
    sweep('12:42'),
  ].join('\n\n');
  const { sweeps } = await evaluateText(text, { 's.csv': csvOf(curveAt('row 4', at, { series: 4 })) });
  const [one, other] = sweeps as [(typeof sweeps)[0], (typeof sweeps)[0]];
  const line = (kind: string) => one.analysis.budget.find((each) => each.kind === kind);
  const whole = (occasion: 'session' | 'visits') => differenceUncertainty(one, other, occasion)!.isc!.whole;
  return { line, session: whole('session'), visits: whole('visits') };
}

describe('two sweeps with the same instruments', () => {
  it('within a session the light of the rear is common, between visits it is not', async () => {
    const plain = await differences({});
    const bifacial = await differences({ module: '\n  bifaciality 70 %', sweep: ['rear 100 W/m2'] });
    const rear = bifacial.line('rear')!.contribution.isc;
    expect(Math.abs(rear)).toBeGreaterThan(0.005);
    expect(bifacial.session).toBeCloseTo(plain.session, 4);
    expect((bifacial.visits / 2) ** 2 - (plain.visits / 2) ** 2).toBeCloseTo(2 * rear ** 2, 6);
  });

  it('calibrations cancel on every occasion: what is left is far below one of them', async () => {
    const { line, session, visits } = await differences({});
    expect(Math.abs(line('irradiance')!.contribution.isc)).toBeCloseTo(0.01, 3);
    expect(session).toBeLessThan(0.01);
    expect(visits).toBeLessThan(0.015);
  });
});
