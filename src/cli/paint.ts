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

/** Colour for a terminal; none where the output is not one, or NO_COLOR is set (no-color.org). */
export function painterFor(isTerminal: boolean, environment: NodeJS.ProcessEnv): Painter | undefined {
  if (!isTerminal || environment['NO_COLOR'] || environment['TERM'] === 'dumb') return undefined;
  // Whether the output takes colour is decided above, not by the stream of this process.
  return (text, tone) => styleText(styles[tone], text, { validateStream: false });
}
