/** A number as one would type it: no exponent, without the last bits that binary arithmetic adds. */
export function readableNumber(value: number): string {
  const text = String(Number(value.toPrecision(12)));
  return text.includes('e') ? value.toFixed(15).replace(/\.?0+$/, '') : text;
}
