/** Files in memory for the evaluation: changed as a disk would, and every read counted. */
import type { FileContent, FileReader } from '../../src/evaluation/ports.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';

export class MemoryFiles implements FileReader {
  readonly reads: string[] = [];
  readonly #files = new Map<string, string | Uint8Array>();

  constructor(files: Readonly<Record<string, string | Uint8Array>> = {}) {
    for (const [name, content] of Object.entries(files)) this.write(name, content);
  }

  write(name: string, content: string | Uint8Array): void {
    this.#files.set(`/w/${name}`, content);
  }

  remove(name: string): void {
    this.#files.delete(`/w/${name}`);
  }

  read(file: string, limitBytes: number): Promise<FileContent> {
    this.reads.push(file);
    const content = this.#files.get(file);
    if (content === undefined) return Promise.resolve({ ok: false, reason: 'missing' });
    const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content.slice();
    if (bytes.length > limitBytes)
      return Promise.resolve({ ok: false, reason: 'too-large', size: bytes.length });
    return Promise.resolve({ ok: true, bytes });
  }

  resolve(from: string, relative: string): string | undefined {
    const { pathname } = new URL(relative.replaceAll('%', '%25'), `file://${from}`);
    // A URL cannot climb above its root: whatever would, is outside.
    const climbs = relative.split('/').reduce((depth, part) => (part === '..' ? depth - 1 : depth + 1), 0);
    const depth = from.split('/').length - 3;
    const file = decodeURIComponent(pathname);
    return depth + climbs < 1 || !file.startsWith('/w/') ? undefined : file;
  }

  displayName(file: string): string {
    return file.replace('/w/', '');
  }
}

export const inMemory = (name: string): string => `/w/${name}`;

/** One evaluation of files held in memory. */
export function evaluateFiles(files: Readonly<Record<string, string>>, root: string): Promise<Evaluation> {
  return new Workbook(new MemoryFiles(files)).evaluate(inMemory(root));
}

export const evaluateText = (text: string, tables: Readonly<Record<string, string>> = {}) =>
  evaluateFiles({ 'campaign.sweepbook': text, ...tables }, 'campaign.sweepbook');
