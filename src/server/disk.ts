import type { FileReader } from '../evaluation/ports.js';

/** What the server asks of the machine it runs on. Files and folders are absolute paths; nothing here rejects. */
export interface Disk {
  /** Reads below a folder; no path written in a file may leave it. */
  below(folder: string): FileReader;
  /** The folder that the paths of a file outside of every workspace folder may not leave. */
  folderOf(file: string): string;
  /** Files below a folder whose names have one of these endings, in any case; version control and packages left out. */
  list(folder: string, endings: readonly string[]): Promise<readonly string[]>;
}
