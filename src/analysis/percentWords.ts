/** Fractions in the sentences of a reason. */

/** As few decimals as tell the value from a limit that it crossed: never "700 W/m2 is below 700 W/m2". */
export function decimalsBeside(
  value: number,
  limits: readonly (number | undefined)[],
  decimals: number,
): number {
  const hidden = (count: number): boolean =>
    limits.some(
      (limit) =>
        limit !== undefined &&
        value !== limit &&
        Number(value.toFixed(count)) === Number(limit.toFixed(count)),
    );
  let count = decimals;
  while (count < decimals + 3 && hidden(count)) count++;
  return count;
}

/** Decimals of a fraction in percent: one, or as many as tell it from the limits, which are fractions too. */
export const percentDecimals = (fraction: number, limits: readonly (number | undefined)[]): number =>
  decimalsBeside(
    fraction * 100,
    limits.map((limit) => limit && limit * 100),
    1,
  );

/** `-5.8 %`, `+0.7 %`, `0.0 %`; with as many decimals as tell it from the limits that it crossed. */
export function signedPercent(fraction: number, limits: readonly (number | undefined)[] = []): string {
  const text = (fraction * 100).toFixed(percentDecimals(fraction, limits));
  if (Number(text) === 0) return `${text.replace('-', '')} %`;
  return `${fraction > 0 ? '+' : ''}${text} %`;
}
