/**
 * Rows as text with tabs between the cells, as spreadsheets take them from the clipboard. A cell that a spreadsheet would
 * take for a formula gets an apostrophe in front, unless it is a number.
 */
export function tableText(rows: readonly (readonly string[])[]): string {
  return rows.map((row) => row.map(cellText).join('\t')).join('\n');
}

function cellText(cell: string): string {
  const text = cell.replace(/[\t\r\n]+/g, ' ');
  const isNumber = /^[+-]?\d/.test(text);
  return /^[=+\-@]/.test(text) && !isNumber ? `'${text}` : text;
}
