/** How wide the columns of a table are, and its rows drawn over as many pages as they take, each with the heads again. */
import type { Line, TableBlock } from '../document.js';
import { cellSize, ink, leadingOf, smallSize, soft } from './look.js';
import type { Sheet } from './sheet.js';
import { naturalWidths, wrapLine, type WrappedLine } from './wrap.js';

const gap = 8;
const rowPadding = 2.2;
const tallRow = 40;
/** No word makes a column wider than this share of the page. */
const widestWord = 0.24;
/** Rows that tell how wide a column should be; more of them take time and change nothing. */
const sampledRows = 400;

export function drawTable(sheet: Sheet, table: TableBlock): void {
  const widths = columnWidths(sheet, table);
  const head = headRow(sheet, table, widths);
  const rows = table.rows.map((cells) => () => rowOf(sheet, table, cells, widths));
  sheet.group('Table', () => {
    const first = rows[0]?.();
    const caption = captionLines(sheet, table);
    sheet.ensure(Math.min(leastTableHeight(sheet, table), sheet.pageHeight / 2));
    if (caption.lines.length > 0) {
      const { y } = sheet;
      const at = {
        x: 0,
        y,
        width: sheet.width,
        size: smallSize,
        leading: leadingOf(smallSize),
        colour: soft,
      };
      sheet.leaf('Caption', () => sheet.lines(caption.lines, at));
      sheet.y += caption.height;
    }
    drawRow(sheet, table, head, widths, true);
    rows.forEach((layOut, index) => {
      const row = index === 0 ? first! : layOut();
      for (const part of pagefuls(sheet, row, head.height)) {
        if (sheet.ensure(part.height)) drawRow(sheet, table, head, widths, true);
        drawRow(sheet, table, part, widths, false);
      }
    });
  });
  sheet.y += 8;
}

/** Caption, heads and the first rows: what should not stand alone at the foot of a page. */
export function leastTableHeight(sheet: Sheet, table: TableBlock): number {
  const widths = columnWidths(sheet, table);
  const rows = table.rows.slice(0, 3).map((cells) => rowOf(sheet, table, cells, widths).height);
  const whole = captionLines(sheet, table).height + headRow(sheet, table, widths).height;
  return whole + rows.reduce((sum, height) => sum + height, 0);
}

interface Row {
  readonly cells: readonly (readonly WrappedLine[])[];
  readonly languages: readonly (string | undefined)[];
  readonly height: number;
}

function captionLines(sheet: Sheet, { caption }: TableBlock): { lines: WrappedLine[]; height: number } {
  if (caption === undefined) return { lines: [], height: 0 };
  const lines = wrapLine(caption, sheet.width, smallSize, sheet.measure);
  return { lines, height: lines.length * leadingOf(smallSize) + 2 };
}

function headRow(sheet: Sheet, table: TableBlock, widths: readonly number[]): Row {
  const cells = table.columns.map(({ title }, index) =>
    wrapLine({ text: title, strong: true, soft: true }, widths[index]!, smallSize, sheet.measure),
  );
  return { cells, languages: [], height: heightOf(cells, smallSize) };
}

function rowOf(sheet: Sheet, table: TableBlock, line: readonly Line[], widths: readonly number[]): Row {
  const cells = line.map((cell, index) => wrapLine(cell, widths[index]!, cellSize, sheet.measure));
  const height = heightOf(cells, cellSize);
  return { cells, languages: line.map(languageOf), height: table.tall ? Math.max(tallRow, height) : height };
}

const languageOf = (line: Line): string | undefined =>
  typeof line !== 'string' && 'text' in line ? line.language : undefined;

const heightOf = (cells: readonly (readonly WrappedLine[])[], size: number): number =>
  Math.max(1, ...cells.map(({ length }) => length)) * leadingOf(size) + 2 * rowPadding;

/** A row that is higher than a page is cut into pieces that fit. */
function pagefuls(sheet: Sheet, row: Row, headHeight: number): Row[] {
  const room = sheet.pageHeight - headHeight;
  if (row.height <= room) return [row];
  const most = Math.max(1, Math.floor((room - 2 * rowPadding) / leadingOf(cellSize)));
  const count = Math.ceil(Math.max(...row.cells.map(({ length }) => length)) / most);
  return Array.from({ length: count }, (_, at) => {
    const cells = row.cells.map((lines) => lines.slice(at * most, (at + 1) * most));
    return { cells, languages: row.languages, height: heightOf(cells, cellSize) };
  });
}

function drawRow(
  sheet: Sheet,
  table: TableBlock,
  row: Row,
  widths: readonly number[],
  isHead: boolean,
): void {
  const size = isHead ? smallSize : cellSize;
  sheet.group('TR', () => {
    let x = 0;
    row.cells.forEach((lines, index) => {
      const { align } = table.columns[index]!;
      const at = { x, y: sheet.y + rowPadding, width: widths[index]!, size, leading: leadingOf(size), align };
      const lang = row.languages[index];
      sheet.leaf(
        isHead || index === 0 ? 'TH' : 'TD',
        () => sheet.lines(lines, at),
        lang === undefined ? {} : { lang },
      );
      x += widths[index]! + gap;
    });
  });
  sheet.y += row.height;
  sheet.rule(0, sheet.y, sheet.width, isHead ? 0.7 : 0.4, isHead ? ink : undefined);
}

/**
 * As wide as their text where all fits; else every column has its longest word (numbers and short words their whole text) and
 * what is left goes to those that want more, by what they want.
 */
function columnWidths(sheet: Sheet, { columns, rows, tall }: TableBlock): number[] {
  const room = sheet.width - gap * (columns.length - 1);
  const sampled =
    rows.length > sampledRows
      ? rows.filter((_, at) => at % Math.ceil(rows.length / sampledRows) === 0)
      : rows;
  const wanted = columns.map(({ title, align, whole }, index) => {
    const head = naturalWidths({ text: title, strong: true }, sheet.measure, smallSize);
    const cells = sampled.map((row) => naturalWidths(row[index] ?? '', sheet.measure, cellSize));
    const most = cells.reduce((widest, cell) => Math.max(widest, cell.whole), head.whole);
    const word = cells.reduce((widest, cell) => Math.max(widest, cell.longest), head.longest);
    const least = align === 'right' || whole ? Math.min(most, 0.3 * room) : Math.min(word, widestWord * room);
    const isBlank = tall && rows.every((row) => row[index] === '');
    return { most: isBlank ? 0.14 * room : most + 0.5, least: isBlank ? 0.14 * room : least + 0.5 };
  });
  const sum = (of: 'most' | 'least'): number => wanted.reduce((total, each) => total + each[of], 0);
  if (sum('most') <= room) {
    // Words may run to the right margin; numbers stay together.
    const spare = room - sum('most');
    const widened = columns.at(-1)!.align === 'left' ? columns.length - 1 : 0;
    return wanted.map(({ most }, index) => most + (index === widened ? spare : 0));
  }
  if (sum('least') >= room) return wanted.map(({ least }) => (least * room) / sum('least'));
  const share = (room - sum('least')) / (sum('most') - sum('least'));
  return wanted.map(({ most, least }) => least + (most - least) * share);
}
