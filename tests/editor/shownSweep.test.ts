import { describe, expect, it } from 'vitest';
import { findSweep, rememberSweep, sweepAbove } from '../../src/editor/preview/shownSweep.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { timeText } from '../../src/presentation/sweepTexts.js';
import { empty, evaluation, file } from '../presentation/fixture.js';

const { sweeps } = evaluation;

describe('the sweep that a panel shows', () => {
  it('is the same one again after lines have moved', () => {
    const moved: Evaluation = {
      ...evaluation,
      sweeps: sweeps.map((sweep) => ({ ...sweep, id: `moved ${sweep.id}` })),
    };
    for (const sweep of sweeps) {
      expect(findSweep(moved, rememberSweep(sweep))!.id).toBe(`moved ${sweep.id}`);
    }
  });

  it('is found by its time as the page shows it', () => {
    const [first, ...others] = sweeps.filter(({ address }) => address === '1.03');
    expect(others.length).toBeGreaterThan(0);
    for (const sweep of [first!, ...others])
      expect(findSweep(evaluation, { address: '1.03', time: timeText(sweep.time) })).toBe(sweep);
  });

  it('is another of the same address when its time is rewritten, else the first', () => {
    expect(findSweep(evaluation, { address: '1.04', time: 'elsewhen' })).toBe(sweeps[3]);
    expect(findSweep(evaluation, { address: '9.99' })).toBe(sweeps[0]);
    expect(findSweep(empty, { address: '1.04' })).toBeUndefined();
  });

  it('is the nearest above for a line between blocks', () => {
    const [first, second] = sweeps;
    expect(sweepAbove(evaluation, file, first!.block.startLine - 1)).toBeUndefined();
    expect(sweepAbove(evaluation, file, second!.block.startLine - 1)).toBe(first);
    expect(sweepAbove(evaluation, file, 10_000)).toBe(sweeps.at(-1));
    expect(sweepAbove(evaluation, 'other', 10_000)).toBeUndefined();
  });
});
