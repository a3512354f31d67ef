/** Numbers as instruments and spreadsheets write them. */

export type DecimalSign = '.' | ',';

const plain = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;
const grouped: Record<DecimalSign, RegExp> = {
  '.': /^[+-]?\d{1,3}(?:,\d{3})+\.\d*$/,
  ',': /^[+-]?\d{1,3}(?:\.\d{3})+,\d*$/,
};
const groupedBySpace = /^[+-]?\d{1,3}(?:[ \u00a0\u202f'’]\d{3})+(?:[.,]\d*)?$/;
const groupedOnly: Record<DecimalSign, RegExp> = {
  '.': /^[+-]?\d{1,3}(?:,\d{3})+$/,
  ',': /^[+-]?\d{1,3}(?:\.\d{3})+$/,
};
const numberOfAnyKind =
  /^[+\-−]?(?:\d+(?:[.,]\d*)?|[.,]\d+|\d{1,3}(?:[.,'’\u00a0\u202f]\d{3})+(?:[.,]\d*)?)(?:[eE][+-]?\d+)?$/;
const notANumber = /^[+-]?(?:nan|n\/a|na|null|inf|infinity|#n\/a|--+|-)$/i;

/**
 * The finite number a field holds, or NaN: for an empty field, for words, for `NaN` and `inf`, and for a number whose
 * separator could mean thousands or decimals (`isAmbiguous` tells). Thousands set off by a space or apostrophe, or by
 * the other sign where a decimal sign follows (`1.234,5`), are read.
 */
export function readNumber(field: string, decimal: DecimalSign): number {
  const first = field.charCodeAt(0);
  const begins = (first >= 48 && first <= 57) || first === 45 || first === 46 || first === 43;
  if (!begins || (decimal === ',' && field.includes('.'))) return readSlowly(field, decimal);
  const value = Number(decimal === ',' ? field.replace(',', '.') : field);
  return Number.isFinite(value) && !hasRadix(field) ? value : readSlowly(field, decimal);
}

/** `Number` also knows `0x10`, `0b1` and `0o7`; a table does not. */
function hasRadix(field: string): boolean {
  const second = field.charCodeAt(1);
  return field.charCodeAt(0) === 48 && second > 57 && second !== 69 && second !== 101;
}

function readSlowly(field: string, decimal: DecimalSign): number {
  if (field === '' || field.length > 60) return NaN;
  let text = tidy(field);
  if (groupedBySpace.test(text)) text = text.replace(/[ \u00a0\u202f'’]/g, '');
  else if (grouped[decimal].test(text)) text = text.replaceAll(decimal === '.' ? ',' : '.', '');
  if (decimal === ',') {
    if (text.includes('.')) return NaN;
    text = text.replace(',', '.');
  }
  return plain.test(text) ? finite(Number(text)) : NaN;
}

function finite(value: number): number {
  return Number.isFinite(value) ? value : NaN;
}

function tidy(field: string): string {
  return field
    .trim()
    .replace(/^"+|"+$/g, '')
    .trim()
    .replace(/^−/, '-');
}

/** `1,234` where the decimal sign is a dot, `1.234` where it is a comma: thousands, or decimals after all? */
export function isAmbiguous(field: string, decimal: DecimalSign): boolean {
  return field.length <= 60 && groupedOnly[decimal].test(tidy(field));
}

/** Whatever the decimal sign: does the field hold a number, or the word for a missing one? Empty fields do not. */
export function looksNumeric(field: string): boolean {
  if (field === '' || field.length > 60) return false;
  const text = tidy(field);
  return text !== '' && (numberOfAnyKind.test(text) || /^[+-]?(?:nan|inf)$/i.test(text));
}

/** Empty, or a word for a missing value. */
export function isGap(field: string | undefined): boolean {
  return field === undefined || field.trim() === '' || notANumber.test(field.trim());
}

/**
 * Which decimal sign the fields use, from at most 40 fields that carry one. A sign with other than three digits behind
 * it counts before one that could set off thousands. Undefined when no field carries a sign.
 */
export function recogniseDecimal(fields: Iterable<string>): DecimalSign | undefined {
  const clear = { '.': 0, ',': 0 };
  const unclear = { '.': 0, ',': 0 };
  let seen = 0;
  for (const field of fields) {
    if (!looksNumeric(field)) continue;
    const sign = lastSign(field);
    if (!sign) continue;
    (isAmbiguous(field, sign === '.' ? ',' : '.') ? unclear : clear)[sign]++;
    if (++seen >= 40) break;
  }
  const count = clear['.'] + clear[','] > 0 ? clear : unclear;
  if (count['.'] + count[','] === 0) return undefined;
  return count['.'] >= count[','] ? '.' : ',';
}

function lastSign(field: string): DecimalSign | undefined {
  const dot = field.lastIndexOf('.');
  const comma = field.lastIndexOf(',');
  if (dot === comma) return undefined;
  return dot > comma ? '.' : ',';
}
