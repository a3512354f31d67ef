import { describe, expect, it } from 'vitest';
import { lightTheme } from '../../src/presentation/chartTheme.js';
import { countsLine, verdictCounts, verdictMark, verdictOrder } from '../../src/presentation/verdictWords.js';
import { empty, evaluation } from './fixture.js';

const marks = verdictOrder.map(verdictMark);

it('tells verdicts apart by shape alone, in Unicode and in ASCII', () => {
  expect(new Set(marks.map((mark) => mark.symbol)).size).toBe(marks.length);
  expect(new Set(marks.map((mark) => mark.ascii)).size).toBe(marks.length);
  expect(marks.every((mark) => /^[\x21-\x7e]$/.test(mark.ascii))).toBe(true);
});

it('counts every sweep once', () => {
  const total = verdictCounts(evaluation.counts).reduce((sum, { count }) => sum + count, 0);
  expect(total).toBe(evaluation.sweeps.length);
  expect(countsLine(evaluation.counts)).toBe(
    '6 sweeps: 1 pass, 1 conditional fail, 2 fail, 1 not judged, 1 void',
  );
  expect(countsLine(empty.counts)).toBe('No sweeps');
});

/** Relative luminance and contrast ratio, WCAG 2.2, definitions in section 6 (from memory, not confirmed). */
function contrast(a: string, b: string): number {
  const luminance = (hex: string) => {
    const [r, g, blue] = [1, 3, 5].map((at) => {
      const channel = parseInt(hex.slice(at, at + 2), 16) / 255;
      return channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r! + 0.7152 * g! + 0.0722 * blue!;
  };
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (light! + 0.05) / (dark! + 0.05);
}

describe('the page theme', () => {
  const { background } = lightTheme;

  it('computes contrast as WCAG does', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
  });

  it('draws lines and marks with 3:1, text with 4.5:1', () => {
    for (const part of ['measured', 'translated', 'nameplate', 'limit'] as const) {
      expect(contrast(lightTheme[part], background), part).toBeGreaterThanOrEqual(3);
    }
    for (const part of ['foreground', 'muted', 'good', 'doubtful', 'bad', 'neutral'] as const) {
      expect(contrast(lightTheme[part], background), part).toBeGreaterThanOrEqual(4.5);
    }
  });

  it('keeps the curves apart in grey print', () => {
    expect(contrast(lightTheme.translated, lightTheme.nameplate)).toBeGreaterThan(1.5);
    expect(contrast(lightTheme.translated, lightTheme.measured)).toBeGreaterThan(1.5);
  });
});
