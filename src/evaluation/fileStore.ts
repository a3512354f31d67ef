/**
 * Texts and tables, read once and kept until they change. The identity of what is handed out is its revision: the same
 * object means that nothing changed, so whatever was computed from it still holds.
 */
import { parseDocument, type Document } from '../syntax/document.js';
import { decodeText } from '../sweeps/decodeText.js';
import type { FileContent, FileReader } from './ports.js';

/** Campaign files are written by hand; a larger one is something else. */
export const campaignFileLimit = 16 * 1024 * 1024;
export const tableFileLimit = 32 * 1024 * 1024;

export type Failure =
  | Extract<FileContent, { ok: false }>
  | { readonly ok: false; readonly reason: 'binary'; readonly size?: undefined };

const binary: Failure = { ok: false, reason: 'binary' };

export type LoadedDocument =
  | {
      readonly document: Document;
      readonly failure?: undefined;
      /** Where the file is not UTF-8: what it was read as. */
      readonly encoding?: string;
    }
  | { readonly document?: undefined; readonly failure: Failure };

interface TextEntry {
  /** The text an editor holds; it wins over the disk. */
  open?: string;
  /** What the editor holds is no text. */
  binary?: boolean;
  document?: Document;
  loading?: Promise<LoadedDocument>;
  /** Counts up when the file changes, so that a read begun before is known to be old. */
  edition: number;
}

export class FileStore {
  readonly #reader: FileReader;
  readonly #texts = new Map<string, TextEntry>();
  readonly #tables = new Map<string, Promise<FileContent>>();
  #tablesEdition = 0;
  /** What a table held before it was said to have changed: the same bytes keep their identity. */
  readonly #formerTables = new Map<string, FileContent>();

  constructor(reader: FileReader) {
    this.#reader = reader;
  }

  /** Text of an open editor; `undefined` gives the file back to the disk. */
  setText(file: string, text: string | undefined): void {
    const entry = this.#entry(file);
    entry.edition++;
    entry.loading = undefined;
    entry.open = text;
    entry.binary = text !== undefined && isBinary(text);
    if (text !== undefined) entry.document = parseDocument(text, entry.document);
  }

  /** The file changed, came or went on disk. */
  fileChanged(file: string): void {
    const entry = this.#texts.get(file);
    if (entry) {
      entry.edition++;
      entry.loading = undefined;
    }
    const table = this.#tables.get(file);
    if (!table) return;
    this.#tablesEdition++;
    this.#tables.delete(file);
    void table.then((content) => {
      this.#formerTables.set(file, content);
    });
  }

  /** Keeps nothing of a file, unless an editor holds its text; it is read again when somebody asks for it. */
  forget(file: string): void {
    if (this.#tables.delete(file)) this.#tablesEdition++;
    this.#formerTables.delete(file);
    if (this.#texts.get(file)?.open === undefined) this.#texts.delete(file);
  }

  /** The parsed text if it is at hand, without reading anything. */
  documentAtHand(file: string): Document | undefined {
    return this.#texts.get(file)?.document;
  }

  document(file: string): Promise<LoadedDocument> {
    const entry = this.#entry(file);
    if (entry.open !== undefined && entry.document) {
      const { document } = entry;
      return Promise.resolve(entry.binary ? { failure: binary } : { document });
    }
    entry.loading ??= this.#readDocument(file, entry);
    return entry.loading;
  }

  async #readDocument(file: string, entry: TextEntry): Promise<LoadedDocument> {
    const { edition } = entry;
    const content = await this.#reader.read(file, campaignFileLimit);
    if (!content.ok) return { failure: content };
    const { text, encoding } = campaignText(content.bytes);
    if (isBinary(text)) return { failure: binary };
    // An editor may have opened the file in the meantime, or the disk may have changed again.
    if (entry.edition !== edition && entry.document) return { document: entry.document };
    entry.document = parseDocument(text, entry.document);
    return { document: entry.document, encoding };
  }

  #entry(file: string): TextEntry {
    let entry = this.#texts.get(file);
    if (!entry) this.#texts.set(file, (entry = { edition: 0 }));
    return entry;
  }

  /** Counts up when a table may have changed. */
  get tablesEdition(): number {
    return this.#tablesEdition;
  }

  table(file: string): Promise<FileContent> {
    let content = this.#tables.get(file);
    if (!content) {
      content = this.#readTable(file);
      this.#tables.set(file, content);
    }
    return content;
  }

  async #readTable(file: string): Promise<FileContent> {
    const content = await this.#reader.read(file, tableFileLimit);
    const former = this.#formerTables.get(file);
    this.#formerTables.delete(file);
    return former && isSameContent(former, content) ? former : content;
  }
}

/** UTF-8; what is not is read as a table would be, so that `±` and `°` are not lost, and the encoding is told. */
function campaignText(bytes: Uint8Array): { text: string; encoding?: string } {
  const decoded = decodeText(bytes);
  const foreign = decoded.ok && decoded.encoding !== 'utf-8' ? decoded : undefined;
  return foreign ?? { text: new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes) };
}

/** Characters that are looked at. */
const looked = 65_536;

/**
 * A text holds hardly any control characters but tab and line ends: one in fifty is the project's own limit, so that a stray one
 * costs a line and not the file. Characters that could not be decoded count as well.
 */
function isBinary(text: string): boolean {
  const start = text.slice(0, looked);
  const strange = start.match(/[\0-\x08\x0e-\x1f\x7f\ufffd]/g)?.length ?? 0;
  return strange > 0.02 * start.length;
}

/** The same bytes, or the same reason why there are none. */
export function isSameContent(a: FileContent, b: FileContent): boolean {
  if (!a.ok || !b.ok) return !a.ok && !b.ok && a.reason === b.reason && a.size === b.size;
  return a.bytes.length === b.bytes.length && a.bytes.every((byte, index) => byte === b.bytes[index]);
}
