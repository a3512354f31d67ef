/**
 * From the bytes of a file to text with `\n` at the end of each line.
 *
 * Recognised: UTF-8 with or without byte order mark; UTF-16, little or big endian, with byte order mark; anything else
 * that is not valid UTF-8 is read as Windows-1252 (which holds Latin-1: `°`, `²`, `ä`). Line ends may be LF, CRLF or CR.
 */
import { error } from './readingProblems.js';
import type { ReadingProblem } from './sweepReading.js';

/** Files larger than this are not read: 32 MB. */
export const sizeLimitBytes = 32 * 1024 * 1024;
/** A longer line is not a row of measured values. */
export const lineLengthLimit = 100_000;

export type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';

export type Decoded =
  | { readonly ok: true; readonly text: string; readonly encoding: Encoding }
  | { readonly ok: false; readonly problem: ReadingProblem };

export function decodeText(bytes: Uint8Array): Decoded {
  if (bytes.length > sizeLimitBytes) {
    const megabytes = (bytes.length / 1024 / 1024).toFixed(0);
    return failed(
      'too-large',
      `The file has ${megabytes} MB; at most 32 MB are read. Split it, or export fewer sweeps.`,
    );
  }
  const kind = binaryKind(bytes);
  if (kind) {
    return failed(
      'binary-file',
      `The file looks like ${kind}, not like a text table; export it as CSV and name that file.`,
    );
  }
  const { text, encoding } = decode(bytes);
  if (text.includes('\0')) {
    return failed(
      'binary-file',
      'The file holds zero bytes, so it is binary or UTF-16 without a byte order mark; save it as CSV in UTF-8.',
    );
  }
  if (!/\S/.test(text))
    return failed('empty-file', 'The file is empty; a sweep needs rows of voltage and current.');
  const unified = text.includes('\r') ? text.replace(/\r\n?/g, '\n') : text;
  const longLine = firstLongLine(unified);
  if (longLine !== undefined) {
    return failed(
      'line-too-long',
      `Line ${longLine} has more than ${lineLengthLimit} characters, so this is not a table of measured points; export one point a line.`,
      longLine,
    );
  }
  return { ok: true, text: unified, encoding };
}

function failed(id: string, message: string, line?: number): Decoded {
  return { ok: false, problem: error(id, message, line === undefined ? undefined : { line }) };
}

const signatures: readonly (readonly [readonly number[], string])[] = [
  [[0x50, 0x4b, 0x03, 0x04], 'a spreadsheet or zip file'],
  [[0x50, 0x4b, 0x05, 0x06], 'an empty zip file'],
  [[0xd0, 0xcf, 0x11, 0xe0], 'an older binary spreadsheet'],
  [[0x1f, 0x8b], 'a gzip file'],
  [[0x25, 0x50, 0x44, 0x46], 'a PDF document'],
  [[0x89, 0x50, 0x4e, 0x47], 'a picture'],
  [[0xff, 0xd8, 0xff], 'a picture'],
];

function binaryKind(bytes: Uint8Array): string | undefined {
  return signatures.find(([signature]) => signature.every((byte, at) => bytes[at] === byte))?.[1];
}

/** A file cut within its last character is still UTF-8: `stream` lets the decoder leave that character out. */
function decode(bytes: Uint8Array): { readonly text: string; readonly encoding: Encoding } {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return decodeAs(bytes, 'utf-16le');
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return decodeAs(bytes, 'utf-16be');
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes, { stream: true });
    return { text, encoding: 'utf-8' };
  } catch {
    return decodeAs(bytes, 'windows-1252');
  }
}

function decodeAs(
  bytes: Uint8Array,
  encoding: Encoding,
): { readonly text: string; readonly encoding: Encoding } {
  return { text: new TextDecoder(encoding).decode(bytes), encoding };
}

function firstLongLine(text: string): number | undefined {
  if (text.length <= lineLengthLimit) return undefined;
  for (let start = 0, line = 1; start < text.length; line++) {
    const end = text.indexOf('\n', start);
    if ((end < 0 ? text.length : end) - start > lineLengthLimit) return line;
    if (end < 0) return undefined;
    start = end + 1;
  }
  return undefined;
}
