/** What a command knows of the terminal it runs in; tests hand in their own. */
export interface Io {
  readonly out: (text: string) => void;
  readonly error: (text: string) => void;
  readonly isTerminal: boolean;
  readonly environment: NodeJS.ProcessEnv;
  readonly workingFolder: string;
}
