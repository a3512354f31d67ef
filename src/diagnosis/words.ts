/** Numbers in the sentences of a diagnosis: sensible digits, uncertainty (k = 2) where it is known; and what they compare with. */
import type { Figure } from './diagnosis.js';
import type { Expectation } from './expectation.js';

/** `8.0 ± 0.7 %`: the value to the place of the second digit of its uncertainty, at most four digits. */
export function withUncertainty(value: number, standard: number | undefined, unit: string): string {
  const expanded = standard === undefined ? NaN : 2 * standard;
  const space = unit === '' ? '' : ` ${unit}`;
  if (!Number.isFinite(expanded) || expanded <= 0) return `${plain(value)}${space}`;
  const places = Math.max(0, Math.min(3, 1 - Math.floor(Math.log10(expanded))));
  const decimals = expanded >= 10 ? 0 : Math.min(places, decimalsOf(value));
  const shown = expanded.toFixed(decimals);
  return Number(shown) === 0 ? `${plain(value)}${space}` : `${value.toFixed(decimals)} ± ${shown}${space}`;
}

const decimalsOf = (value: number): number =>
  Math.max(0, 3 - Math.max(0, Math.floor(Math.log10(Math.max(1e-9, Math.abs(value))))));

/** Three digits, without an exponent. */
export function plain(value: number): string {
  const rounded = Number(value.toPrecision(3));
  return Math.abs(rounded) >= 1000 ? rounded.toFixed(0) : String(rounded);
}

export const percent = (fraction: number, standard?: number): string =>
  withUncertainty(100 * fraction, standard === undefined ? undefined : 100 * standard, '%');

export const counted = (count: number, word: string): string => `${count} ${count === 1 ? word : `${word}s`}`;

export const figure = (name: string, value: number, unit: string, standard?: number): Figure => ({
  name,
  value,
  unit,
  ...(standard !== undefined && Number.isFinite(standard) ? { uncertainty: 2 * standard } : {}),
});

/** What a level of this string is held against. */
export const standardWords = ({ input: { peers } }: Expectation): string =>
  peers ? 'usual for the other strings' : 'expected';
