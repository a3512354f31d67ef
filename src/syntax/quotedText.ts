import { lexLine } from './lexLine.js';

/** In quotes, as the notation reads it back; undefined for text that no line can hold: line ends, control and bidi characters. */
export function quotedText(text: string): string | undefined {
  const written = `"${text.replaceAll('"', '""')}"`;
  if (/[\r\n]/.test(text)) return undefined;
  const { tokens, problem } = lexLine(written, 0);
  const isWhole = tokens.length === 1 && tokens[0]!.kind === 'quoted' && tokens[0]!.text === text;
  return isWhole && !problem ? written : undefined;
}
