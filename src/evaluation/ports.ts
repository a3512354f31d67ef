/**
 * What the evaluation asks of its host. A file is an opaque key: an absolute path on a command line, a URI in an editor.
 */
export type FileContent =
  | { readonly ok: true; readonly bytes: Uint8Array }
  | {
      readonly ok: false;
      readonly reason: 'missing' | 'too-large' | 'not-a-file' | 'unreadable';
      readonly size?: number;
    };

export interface FileReader {
  /** Never rejects for a file that is missing, too large or unreadable: it says so in the answer. */
  read(file: string, limitBytes: number): Promise<FileContent>;
  /** The file that `relative`, written in `from`, names; undefined when it would leave the workspace folder. */
  resolve(from: string, relative: string): string | undefined;
  /** For messages and reports: relative to the workspace folder, with `/`. */
  displayName(file: string): string;
}
