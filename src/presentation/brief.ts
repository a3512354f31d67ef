/** A short paper of headings, lists and tables, written to a terminal or as Markdown for a pull request. */
import { escapeHtml } from './htmlText.js';
import { escapeMarkdown, strongMarkdown } from './markdownText.js';
import type { ChangedPlace } from './sourcePlace.js';
import { alignedRows, printable, type Column } from './terminalText.js';
import type { Painter } from './textTable.js';

export interface BriefItem {
  readonly text: string;
  /** Where it stands: on lines of their own, indented, in a terminal; behind the text in Markdown. */
  readonly places?: readonly string[];
  /** The same for a host that goes there. */
  readonly at?: ChangedPlace;
}

export interface BriefTable {
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly string[])[];
}

export interface BriefSection {
  readonly title: string;
  readonly items?: readonly BriefItem[];
  readonly table?: BriefTable;
  /** For who asks for it: folded up in Markdown. */
  readonly isDetail?: boolean;
}

export interface Brief {
  readonly title: string;
  /** What one has to know, a sentence each. */
  readonly summary: readonly string[];
  readonly sections: readonly BriefSection[];
}

/** Ends with a line break. */
export function briefText({ title, summary, sections }: Brief, paint: Painter = (text) => text): string {
  const lines = [paint(printable(title), 'strong'), ...summary.map(printable)];
  for (const section of sections) {
    lines.push('', paint(printable(section.title), 'strong'));
    for (const { text, places = [] } of section.items ?? [])
      lines.push(`- ${printable(text)}`, ...places.map((place) => paint(`    ${printable(place)}`, 'muted')));
    if (section.table) {
      const rows = alignedRows(section.table.columns, section.table.rows);
      lines.push(...rows.map((cells) => cells.join('  ').trimEnd()));
    }
  }
  return `${lines.join('\n')}\n`;
}

/** Rows of a table in Markdown: a comment of a pull request has room for 65,536 characters. */
const mostRows = 200;

/** GitHub's dialect. What was written by a user is escaped. Ends with a line break. */
export function briefMarkdown({ title, summary, sections }: Brief): string {
  const parts = [`### ${escapeMarkdown(title)}`, summary.map(escapeMarkdown).join('  \n')];
  for (const section of sections) {
    const body = [
      ...(section.items?.length ? [section.items.map(itemMarkdown).join('\n')] : []),
      ...(section.table ? [tableMarkdown(section.table)] : []),
    ].join('\n\n');
    const { title: heading, isDetail } = section;
    parts.push(
      isDetail
        ? `<details><summary>${escapeHtml(heading)}</summary>\n\n${body}\n\n</details>`
        : `${strongMarkdown(heading)}\n\n${body}`,
    );
  }
  return `${parts.filter((part) => part !== '').join('\n\n')}\n`;
}

function itemMarkdown({ text, places = [] }: BriefItem): string {
  const where = places.length === 0 ? '' : ` (${escapeMarkdown(places.join('; '))})`;
  return `- ${escapeMarkdown(text)}${where}`;
}

function tableMarkdown({ columns, rows }: BriefTable): string {
  const row = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  const left = rows.length - mostRows;
  return [
    row(columns.map(({ title }) => escapeMarkdown(title))),
    row(columns.map(({ align }) => (align === 'right' ? '--:' : '---'))),
    ...rows.slice(0, mostRows).map((cells) => row(cells.map(escapeMarkdown))),
    ...(left > 0 ? ['', `and ${left} more`] : []),
  ].join('\n');
}
