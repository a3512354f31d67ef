/**
 * A user's text as Markdown that shows it and does nothing else: every ASCII punctuation character is escaped, which
 * CommonMark (0.31, section 2.4) allows for all of them, so no link, image, code, HTML, autolink or table cell can begin;
 * line ends become spaces.
 */
export function escapeMarkdown(text: string): string {
  return text.replace(/[\p{Cc}\u2028\u2029]+/gu, ' ').replace(/[!-/:-@[-`{-~]/g, '\\$&');
}

/** Text in code style: what we wrote ourselves, such as an example from the keyword table. */
export function codeMarkdown(text: string): string {
  const longest = Math.max(0, ...[...text.matchAll(/`+/g)].map((run) => run[0].length));
  const fence = '`'.repeat(longest + 1);
  const space = longest > 0 ? ' ' : '';
  return `${fence}${space}${text.replace(/\s+/g, ' ')}${space}${fence}`;
}
