/**
 * A file's key in the core is its URI in one spelling: clients differ in what they escape. What is no file of this
 * machine, such as a text that was never saved, keeps the URI that the client gave it.
 */
import { fileURLToPath, pathToFileURL } from 'node:url';

export const keyOfPath = (file: string): string => pathToFileURL(file).href;

/** Undefined for what is no file of this machine. */
export function pathOf(key: string): string | undefined {
  if (!key.startsWith('file:')) return undefined;
  try {
    return fileURLToPath(key);
  } catch {
    // A host in it, or a byte that no path has.
    return undefined;
  }
}

export function keyOf(uri: string): string {
  const file = pathOf(uri);
  return file === undefined ? uri : keyOfPath(file);
}
