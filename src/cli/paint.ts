import { styleText } from 'node:util';
import type { Painter } from '../presentation/textTable.js';

const styles = {
  good: 'green',
  doubtful: 'yellow',
  bad: 'red',
  neutral: 'cyan',
  muted: 'dim',
  strong: 'bold',
} as const;

export const colourPainter: Painter = (text, tone) =>
  // Whether the output takes colour is decided elsewhere, not by the stream of this process.
  styleText(styles[tone], text, { validateStream: false });

/** No colour where the output is no terminal, or NO_COLOR is set (no-color.org). */
export const takesColour = (isTerminal: boolean, environment: NodeJS.ProcessEnv): boolean =>
  isTerminal && !environment['NO_COLOR'] && environment['TERM'] !== 'dumb';

export function painterFor(isTerminal: boolean, environment: NodeJS.ProcessEnv): Painter | undefined {
  return takesColour(isTerminal, environment) ? colourPainter : undefined;
}
