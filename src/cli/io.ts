import { printable } from '../presentation/terminalText.js';

/** What a command knows of the terminal it runs in; tests hand in their own. */
export interface Io {
  readonly out: (text: string) => void;
  readonly error: (text: string) => void;
  readonly isTerminal: boolean;
  readonly environment: NodeJS.ProcessEnv;
  readonly workingFolder: string;
}

/** One line on the error stream. Names of files may hold what a terminal would obey; it is shown as a mark. */
export function complain({ error }: Io, message: string): void {
  error(`${printable(message)}\n`);
}
