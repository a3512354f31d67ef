/** A report as Markdown (GitHub's dialect) for pull requests. Charts are left out: their numbers stand in the tables. */
import { escapeMarkdown } from '../../presentation/markdownText.js';
import {
  spansOf,
  type Block,
  type Line,
  type ReportDocument,
  type Span,
  type TableBlock,
} from '../document.js';

export function toMarkdown(report: ReportDocument): string {
  const parts = [
    escapeMarkdown(report.kind),
    ...report.blocks.map(blockMarkdown),
    `---\n\n${escapeMarkdown(report.colophon)}`,
  ];
  return `${parts.filter((part) => part !== '').join('\n\n')}\n`;
}

function blockMarkdown(block: Block): string {
  switch (block.kind) {
    case 'heading':
      return `${'#'.repeat(block.level)} ${line(block.text)}`;
    case 'paragraph':
      return line(block.text);
    case 'list':
      return list(block.items);
    case 'facts':
      return list(block.rows.map(([name, value]) => [{ text: name, strong: true }, ': ', ...spansOf(value)]));
    case 'counts':
      return list(block.items.map(({ count, mark }) => [`${count} `, mark]));
    case 'table':
      return table(block);
    case 'caution':
      return `**${escapeMarkdown(block.title)}**\n\n${list(block.items)}`;
    case 'signature':
      return list(
        block.lines.map(
          ({ who, fields }) => `${who}: ${fields.map((field) => `${field} ____________`).join(', ')}`,
        ),
      );
    case 'pictures':
      return list(block.pictures.map(({ name, caption }) => `${name}: ${caption}`));
    case 'figure':
    case 'page break':
      return '';
  }
}

const list = (items: readonly Line[]): string => items.map((item) => `- ${line(item)}`).join('\n');

const line = (given: Line): string => spansOf(given).map(span).join('').trim();

function span({ text, symbol, strong }: Span): string {
  const words = escapeMarkdown(text);
  const bold = strong && text.trim() === text && text !== '' ? `**${words}**` : words;
  return symbol === undefined ? bold : `${symbol} ${bold}`;
}

function table({ caption, columns, rows }: TableBlock): string {
  const row = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  const lines = [
    row(columns.map(({ title }) => escapeMarkdown(title))),
    row(columns.map(({ align }) => (align === 'right' ? '--:' : '---'))),
    ...rows.map((cells) => row(cells.map(line))),
  ];
  return caption === undefined ? lines.join('\n') : `${escapeMarkdown(caption)}\n\n${lines.join('\n')}`;
}
