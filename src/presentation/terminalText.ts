/** Text for a terminal: widths as they are drawn, and nothing in it that a terminal would obey. */

const wide =
  /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\p{Emoji_Presentation}\uff01-\uff60\uffe0-\uffe6]/u;
const unseen = /[\p{M}\p{Cf}]/u;

/** Columns that a terminal takes for a text: two for a wide character, none for a combining one. */
export function displayWidth(text: string): number {
  let width = 0;
  for (const character of text) width += unseen.test(character) ? 0 : wide.test(character) ? 2 : 1;
  return width;
}

/**
 * Control characters (also those that start a terminal's commands), directional overrides and what is no character (half of a pair,
 * U+FFFE, U+FFFF: no XML holds them) become a visible mark.
 */
export function printable(text: string): string {
  return text.replace(/[\p{Cc}\p{Cs}\u202a-\u202e\u2066-\u2069\ufffe\uffff]/gu, '\ufffd');
}

export interface Column {
  readonly title: string;
  readonly align: 'left' | 'right';
}

/** Cells padded to the widest of their column; two spaces between columns, none at the end of a line. */
export function alignedRows(columns: readonly Column[], rows: readonly (readonly string[])[]): string[][] {
  const all = [columns.map((column) => column.title), ...rows.map((row) => row.map(printable))];
  const widths = columns.map((_, index) =>
    all.reduce((widest, row) => Math.max(widest, displayWidth(row[index] ?? '')), 0),
  );
  return all.map((row) =>
    columns.map((column, index) => {
      const cell = row[index] ?? '';
      const space = ' '.repeat(widths[index]! - displayWidth(cell));
      if (column.align === 'right') return space + cell;
      return index === columns.length - 1 ? cell : cell + space;
    }),
  );
}
