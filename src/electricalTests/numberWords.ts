/** Numbers in the sentences of a reason. */

/** `0.42 Mohm`, `80 mohm`, `1.2 ohm`. */
export function ohms(value: number, digits = 3): string {
  const [, factor, unit] = scales.find(([least]) => Math.abs(value) >= least) ?? scales.at(-1)!;
  return `${Number((value / factor).toPrecision(digits))} ${unit}`;
}

/** From which value on, ohm, a unit is used; its size; its name. */
const scales: readonly (readonly [least: number, factor: number, unit: string])[] = [
  [1e9, 1e9, 'Gohm'],
  [1e5, 1e6, 'Mohm'],
  [1e3, 1e3, 'kohm'],
  [0.1, 1, 'ohm'],
  [0, 1e-3, 'mohm'],
];

/** As `ohms`, with as many digits as tell the value from the limit that it crossed. */
export function ohmsBeside(value: number, limit: number): string {
  let digits = 3;
  while (digits < 9 && value !== limit && ohms(value, digits) === ohms(limit, digits)) digits++;
  return ohms(value, digits);
}

/** Four significant digits. */
export const plain = (value: number): string => String(Number(value.toPrecision(4)));
