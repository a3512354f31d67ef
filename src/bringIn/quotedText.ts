import type { RecognisedColumn } from '../sweeps/recogniseLayout.js';
import { lexLine } from '../syntax/lexLine.js';

/** In quotes, as the notation reads it back; undefined for text that no line can hold: line ends, control and bidi characters. */
export function quotedText(text: string): string | undefined {
  const written = `"${text.replaceAll('"', '""')}"`;
  if (/[\r\n]/.test(text)) return undefined;
  const { tokens, problem } = lexLine(written, 0);
  const isWhole = tokens.length === 1 && tokens[0]!.kind === 'quoted' && tokens[0]!.text === text;
  return isWhole && !problem ? written : undefined;
}

/** A column by its header where that is the only one of its text and can be written, else by its number. */
export function columnWritten(
  { header, number }: RecognisedColumn,
  all: readonly RecognisedColumn[],
): string {
  const isAlone = header !== undefined && all.filter((each) => each.header === header).length === 1;
  return (isAlone && header.length <= 100 ? quotedText(header) : undefined) ?? `column ${number}`;
}
