/** Sizes in points and colours of a PDF; those of the page in pageStyle.ts. */
import type { VerdictTone } from '../../presentation/verdictWords.js';

export const ink = '#1d2733';
export const soft = '#5b6875';
export const rule = '#cfd6dd';
export const caution = '#8a5a00';
export const tones: Readonly<Record<VerdictTone, string>> = {
  good: '#1f6f43',
  doubtful: '#8a5a00',
  bad: '#a3182c',
  neutral: '#5b6875',
};

export const textSize = 8.5;
export const smallSize = 7;
export const cellSize = 7.2;
export const headingSizes = { 1: 18, 2: 12, 3: 9 } as const;
export const leadingOf = (size: number): number => size * 1.35;
