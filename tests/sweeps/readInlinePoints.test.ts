import { describe, expect, it } from 'vitest';
import { readInlinePoints } from '../../src/sweeps/readInlinePoints.js';
import { curve } from './fixtures.js';

const range = { start: { line: 4, character: 2 }, end: { line: 20, character: 0 } };

function inline(count: number, sign = 1) {
  const points = curve(count);
  return {
    voltage: points.map(({ v }) => v).reverse(),
    current: points.map(({ i }) => sign * i).reverse(),
    lines: points.map((_, at) => 5 + at),
    range,
  };
}

describe('points written in the campaign', () => {
  it('are put in order and keep their lines, from 1', () => {
    const { reading, problems } = readInlinePoints(inline(12));
    expect(problems).toEqual([]);
    expect(reading!.direction).toBe('voc-to-isc');
    expect(reading!.curve.voltage[11]).toBe(37.2);
    expect([...reading!.lines]).toEqual([17, 16, 15, 14, 13, 12, 11, 10, 9, 8, 7, 6]);
  });

  it('have their sign turned, and too few are refused', () => {
    expect(readInlinePoints(inline(12, -1)).reading!.signTurned).toBe(true);
    const few = readInlinePoints(inline(9));
    expect(few.reading).toBeUndefined();
    expect(few.problems.map((problem) => problem.id)).toEqual(['sweep/too-few-points']);
    expect(readInlinePoints({ voltage: [], current: [], lines: [], range }).problems).toHaveLength(1);
  });
});
