/** Photographs that notes name, as far as a report can show them. */
import type { FileReader } from '../evaluation/ports.js';

/** A picture that browsers and PDF readers show as it is. */
export interface Picture {
  readonly bytes: Uint8Array;
  readonly type: 'image/jpeg' | 'image/png';
}

export type FoundPicture =
  | { readonly state: 'shown'; readonly picture: Picture }
  | { readonly state: 'missing' | 'too large' | 'unreadable' | 'not a picture' };

/** A file, and the campaign file that names it so. */
interface Named {
  readonly name: string;
  readonly from: string;
}

/** By `pictureKey`. */
export type Pictures = ReadonlyMap<string, FoundPicture>;

export const pictureKey = ({ from, name }: Named): string => `${from}\0${name}`;

/** What a camera makes. */
export const mostBytes = 12 * 1024 * 1024;
/** Of all pictures: a report has to go through the post. */
export const mostBytesTogether = 96 * 1024 * 1024;

/** Of a PNG, which has to be unpacked for a PDF: 12 MB may hold thousands of millions. */
const mostPixels = 40e6;

const isPictureName = (name: string): boolean => /\.(?:jpe?g|png)$/i.test(name);

/** Reads, one after the other, those of the files that are named as pictures. Whatever is wrong with one becomes its state. */
export async function readPictures(files: readonly Named[], reader: FileReader): Promise<Pictures> {
  const found = new Map<string, FoundPicture>();
  let left = mostBytesTogether;
  for (const file of files) {
    const key = pictureKey(file);
    if (found.has(key) || !isPictureName(file.name)) continue;
    const picture = await readPicture(file, reader, Math.min(left, mostBytes));
    if (picture.state === 'shown') left -= picture.picture.bytes.length;
    found.set(key, picture);
  }
  return found;
}

const stateOfFailure = {
  missing: 'missing',
  'too-large': 'too large',
  'not-a-file': 'unreadable',
  unreadable: 'unreadable',
} as const;

async function readPicture({ from, name }: Named, reader: FileReader, limit: number): Promise<FoundPicture> {
  const path = reader.resolve(from, name);
  if (path === undefined) return { state: 'unreadable' };
  const content = await reader.read(path, limit);
  if (!content.ok) return { state: stateOfFailure[content.reason] };
  const { bytes } = content;
  const type = typeOf(bytes);
  if (type === undefined) return { state: 'not a picture' };
  if (type === 'image/png' && pixelsOfPng(bytes) > mostPixels) return { state: 'too large' };
  return { state: 'shown', picture: { bytes, type } };
}

/** Width times height of its first chunk (ISO/IEC 15948, 11.2.2); 0 where it breaks off before. */
function pixelsOfPng({ buffer, byteOffset, length }: Uint8Array): number {
  if (length < 24) return 0;
  const header = new DataView(buffer, byteOffset, length);
  return header.getUint32(16) * header.getUint32(20);
}

/** By the first bytes: JPEG (ISO/IEC 10918-1, SOI marker and the one after it), PNG (ISO/IEC 15948, 5.2). */
function typeOf(bytes: Uint8Array): Picture['type'] | undefined {
  const begins = (...first: number[]): boolean => first.every((byte, index) => bytes[index] === byte);
  if (begins(0xff, 0xd8, 0xff)) return 'image/jpeg';
  return begins(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a) ? 'image/png' : undefined;
}
