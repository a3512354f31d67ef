/** A report as plain text, 100 columns wide where tables allow it. Charts are left out: their numbers stand in the tables. */
import { alignedRows, displayWidth, printable } from '../../presentation/terminalText.js';
import { plainText, type Block, type Line, type ReportDocument, type TableBlock } from '../document.js';

const width = 100;
/** A column of sentences is broken at this width. */
const widestCell = 44;

export function toText(report: ReportDocument): string {
  const parts = [report.kind, ...report.blocks.map(blockText), wrapped(report.colophon).join('\n')];
  const lines = parts
    .filter((part) => part !== '')
    .join('\n\n')
    .split('\n');
  return `${lines.map(printable).join('\n')}\n`;
}

function blockText(block: Block): string {
  switch (block.kind) {
    case 'heading': {
      const text = words(block.text);
      const under = ['=', '-', ''][block.level - 1]!;
      return under === '' ? text : `${text}\n${under.repeat(Math.min(width, displayWidth(text)))}`;
    }
    case 'paragraph':
      return wrapped(words(block.text)).join('\n');
    case 'list':
      return list(block.items);
    case 'facts': {
      const widest = Math.max(...block.rows.map(([name]) => displayWidth(name)));
      return block.rows
        .map(([name, value]) => `${name}:${' '.repeat(widest - displayWidth(name) + 1)}${words(value)}`)
        .join('\n');
    }
    case 'counts':
      return block.items.map(({ count, mark }) => `${String(count).padStart(4)}  ${words(mark)}`).join('\n');
    case 'table':
      return table(block);
    case 'caution':
      return `${block.title}\n${list(block.items)}`;
    case 'signature':
      return block.lines
        .map(
          ({ who, fields }) =>
            `${who}:  ${fields.map((field) => `${field} ____________________`).join('  ')}`,
        )
        .join('\n\n');
    case 'pictures':
      return list(block.pictures.map(({ name, caption }) => `${name}: ${caption}`));
    case 'figure':
    case 'page break':
      return '';
  }
}

const words = (line: Line): string => printable(plainText(line));

const list = (items: readonly Line[]): string =>
  items.map((item) => `- ${wrapped(words(item), width - 2).join('\n  ')}`).join('\n');

function wrapped(text: string, within = width): string[] {
  const lines = [''];
  for (const word of text.split(/\s+/).filter(Boolean)) {
    const last = lines.at(-1)!;
    const longer = last === '' ? word : `${last} ${word}`;
    if (last !== '' && displayWidth(longer) > within) lines.push(word);
    else lines[lines.length - 1] = longer;
  }
  return lines;
}

function table({ caption, columns, rows }: TableBlock): string {
  // A row whose sentences are broken takes several lines.
  const broken = rows.flatMap((cells) => {
    const lines = cells.map((cell) => wrapped(words(cell), widestCell));
    const most = Math.max(...lines.map(({ length }) => length));
    return Array.from({ length: most }, (_, at) => lines.map((cell) => cell[at] ?? ''));
  });
  const aligned = alignedRows(
    columns.map(({ title, align }) => ({ title, align })),
    broken,
  ).map((cells) => cells.join('  ').trimEnd());
  return [...(caption === undefined ? [] : wrapped(caption)), ...aligned].join('\n');
}
