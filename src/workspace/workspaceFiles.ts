import type { FileReader } from '../evaluation/ports.js';

export type PathKind = 'table' | 'campaign';

/** Files as the language features ask for them. */
export interface WorkspaceFiles extends FileReader {
  /** Paths of files near `from`, as it would write them, near ones first. */
  paths(kind: PathKind, from: string): Promise<readonly string[]>;
  /** Bytes of a table; undefined when it cannot be had. */
  readTable(file: string): Promise<Uint8Array | undefined>;
}

/** A list that nobody scrolls through to its end. */
export const mostPaths = 2000;

/** For sorting: near files first. */
export function byDepth(a: string, b: string): number {
  const [one, other] = [a.split('/').length, b.split('/').length];
  return one - other || (a < b ? -1 : 1);
}
