import { printable } from './terminalText.js';

/**
 * A user's text as Markdown that shows it and does nothing else: every ASCII punctuation character is escaped, which
 * CommonMark (0.31, section 2.4) allows for all of them, so no link, image, code, HTML, autolink or table cell can begin;
 * line ends become spaces, what would not show or would turn the order of letters a visible mark.
 */
export function escapeMarkdown(text: string): string {
  return printable(text.replace(/[\t-\r\u0085\u2028\u2029]+/g, ' ')).replace(/[!-/:-@[-`{-~]/g, '\\$&');
}

/** A user's text in bold: white space at an end of it would undo the marks (CommonMark 0.31, section 6.2). */
export function strongMarkdown(text: string): string {
  return `**${escapeMarkdown(text.trim())}**`;
}

/** Text in code style: what we wrote ourselves, such as an example from the keyword table. */
export function codeMarkdown(text: string): string {
  const longest = Math.max(0, ...[...text.matchAll(/`+/g)].map((run) => run[0].length));
  const fence = '`'.repeat(longest + 1);
  const space = longest > 0 ? ' ' : '';
  return `${fence}${space}${text.replace(/\s+/g, ' ')}${space}${fence}`;
}
