/**
 * Numbers for people. Digits follow the uncertainty where it is known: the uncertainty with two significant digits, the
 * value to the same place (JCGM 100:2008, 7.2.6); four significant digits elsewhere. The minus sign is ASCII `-`, so that
 * outputs can be searched and align; decimals are a point in every locale, as in the notation.
 */

/** Shown where a number is not known. */
export const missing = '-';

/** Decimals (negative: tens, hundreds) of the second significant digit of an uncertainty. */
function placeOf(uncertainty: number): number {
  // toExponential rounds first, so that 0.0999 counts as 0.10 and not as 0.099.
  return Math.min(12, 1 - exponentOf(uncertainty, 2));
}

function exponentOf(value: number, digits: number): number {
  return Number(value.toExponential(digits - 1).split('e')[1]);
}

/** Rounds to a place, which may lie left of the decimal point; `-0` to `0`. */
function fixed(value: number, decimals: number): string {
  const scale = 10 ** Math.max(0, -decimals);
  const text = (Math.round(value / scale) * scale || 0).toFixed(0);
  if (decimals < 0) return text;
  return withoutNegativeZero(value.toFixed(decimals));
}

function withoutNegativeZero(text: string): string {
  return /^-0(\.0*)?$/.test(text) ? text.slice(1) : text;
}

/** A plain number with so many significant digits, never in exponent form between 1e-6 and 1e15. */
export function significant(value: number, digits = 4): string {
  if (!Number.isFinite(value)) return missing;
  if (value === 0) return '0';
  const exponent = exponentOf(value, digits);
  if (exponent < -6 || exponent > 14) return value.toExponential(digits - 1);
  return fixed(Number(value.toPrecision(digits)), Math.max(0, digits - 1 - exponent));
}

/** `13.90 A`, or `-` where there is no value. An empty unit or `1` writes none. */
export function formatValue(value: number | undefined, unit: string, digits = 4): string {
  if (value === undefined || !Number.isFinite(value)) return missing;
  return withUnit(significant(value, digits), unit);
}

/**
 * A value in a column of its own: as many digits as its expanded relative uncertainty (a fraction) carries, and never
 * fewer than four, so that a reader can redo the arithmetic between columns (JCGM 100:2008, 7.2.6 allows for it).
 */
export function formatToUncertainty(
  value: number | undefined,
  relativeExpanded: number | undefined,
  unit: string,
): string {
  if (value === undefined || !Number.isFinite(value)) return missing;
  const expanded = Math.abs(value) * (relativeExpanded ?? 0);
  if (!(expanded > 0) || !Number.isFinite(expanded)) return formatValue(value, unit);
  const fourDigits = 3 - exponentOf(value, 4);
  return withUnit(fixed(value, Math.max(0, fourDigits, placeOf(expanded))), unit);
}

/** `(7350 ± 160) W`: value and expanded uncertainty to the same place. Without an uncertainty the value alone. */
export function formatWithUncertainty(
  value: number | undefined,
  relativeExpanded: number | undefined,
  unit: string,
): string {
  if (value === undefined || !Number.isFinite(value)) return missing;
  return formatWithAbsolute(
    value,
    relativeExpanded === undefined ? undefined : Math.abs(value) * relativeExpanded,
    unit,
  );
}

/** The same with the expanded uncertainty in the unit of the value. */
export function formatWithAbsolute(
  value: number | undefined,
  expanded: number | undefined,
  unit: string,
): string {
  if (value === undefined || !Number.isFinite(value)) return missing;
  if (expanded === undefined || !(expanded > 0) || !Number.isFinite(expanded))
    return formatValue(value, unit);
  const place = placeOf(expanded);
  const text = `${fixed(value, place)} ± ${fixed(expanded, place)}`;
  return unit === '' || unit === '1' ? text : `(${text}) ${unit}`;
}

/** A deviation: `-5.8 %`, `+0.4 %`, `0.0 %`. */
export function formatDeviation(fraction: number | undefined, decimals = 1): string {
  if (fraction === undefined || !Number.isFinite(fraction)) return missing;
  const text = fixed(fraction * 100, decimals);
  return `${Number(text) > 0 ? '+' : ''}${text} %`;
}

/**
 * The expanded uncertainty beside a deviation, to the same place (JCGM 100:2008, 7.2.6): `± 2.0 %`, `± 0.9 %`. One that
 * would round to nothing keeps two significant digits.
 */
export function formatDeviationUncertainty(fraction: number | undefined, decimals = 1): string {
  if (fraction === undefined || !Number.isFinite(fraction)) return missing;
  const text = fixed(fraction * 100, decimals);
  return `± ${Number(text) === 0 ? formatPercent(fraction) : `${text} %`}`;
}

/** An uncertainty as a percentage with two significant digits: `2.3 %`, `0.45 %`. */
export function formatPercent(fraction: number | undefined, digits = 2): string {
  if (fraction === undefined || !Number.isFinite(fraction)) return missing;
  return `${significant(fraction * 100, digits)} %`;
}

/** Rounds a number for a written file, so that differences between two files mean something. */
export function roundSignificant(value: number | undefined, digits = 7): number | null {
  if (value === undefined || !Number.isFinite(value)) return null;
  const rounded = Number(value.toPrecision(digits));
  return rounded === 0 ? 0 : rounded;
}

function withUnit(text: string, unit: string): string {
  return unit === '' || unit === '1' ? text : `${text} ${unit}`;
}
