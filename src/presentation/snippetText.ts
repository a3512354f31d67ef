/** Text with tab stops, in the snippet syntax of the Language Server Protocol 3.17. */

/** Text that stands as it is. */
export function plainSnippet(text: string): string {
  return text.replace(/[\\$}]/g, '\\$&');
}

/** A tab stop with some text in it, or empty. */
export function tabStop(number: number, text = ''): string {
  return text === '' ? `$${number}` : `\${${number}:${plainSnippet(text)}}`;
}

/** A tab stop that offers words; a plain one where there is only one, an empty one where there is none. */
export function choiceStop(number: number, words: readonly string[]): string {
  if (words.length < 2) return tabStop(number, words[0]);
  return `\${${number}|${words.map((word) => word.replace(/[\\$},|]/g, '\\$&')).join(',')}|}`;
}

/** What is left of a snippet when nobody fills its tab stops in. */
export function withoutStops(snippet: string): string {
  const text = (escaped = ''): string => escaped.replace(/\\(.)/gs, '$1');
  return snippet.replace(
    /\\(.)|\$\{\d+\|((?:\\.|[^\\,|])*)(?:\\.|[^\\|])*\|\}|\$\{\d+:((?:\\.|[^\\}])*)\}|\$\d+/gs,
    (_, sign?: string, first?: string, held?: string) => sign ?? text(first ?? held),
  );
}
