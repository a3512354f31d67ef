/**
 * A name of the notation from any text: letters, digits and `. _ -` stay (in Unicode form NFC); every run of other characters
 * becomes one `-`; what a name may not begin with, and what is left hanging at the end, goes. At most 60 characters. A text
 * without a letter or digit gives `module`.
 */
export function notationName(text: string): string {
  const name = [...text.normalize('NFC').replace(/[^\p{L}\p{N}\p{M}._-]+/gu, '-')].slice(0, 60).join('');
  // A `..` would be read as a range.
  const plain = name.replace(/\.{2,}/g, '.').replace(/-{2,}/g, '-');
  return plain.replace(/^[^\p{L}\p{N}_]+/u, '').replace(/[.-]+$/, '') || 'module';
}

/** Text between straight quotes: control characters become spaces, a quote is written twice. */
export function quoted(text: string): string {
  const plain = text
    .replace(/[\p{C}\u2028\u2029]+/gu, ' ')
    .replace(/\s+/g, ' ')
    .trim();
  return `"${plain.replaceAll('"', '""')}"`;
}
