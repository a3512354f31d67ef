import path from 'node:path';
import { glob } from 'tinyglobby';

/**
 * Files that match, as absolute paths, sorted; nothing of `node_modules` and `.git`.
 * @param pattern with the separators of this system or `/`; small letters do not stand for large ones
 */
export async function globFiles(
  pattern: string,
  folder: string,
  { anyCase = false }: { readonly anyCase?: boolean } = {},
): Promise<string[]> {
  const found = await glob(pattern.split(path.sep).join('/'), {
    cwd: folder,
    absolute: true,
    caseSensitiveMatch: !anyCase,
    ignore: ['**/node_modules/**', '**/.git/**'],
    expandDirectories: false,
  });
  return found.map((file) => path.resolve(file)).sort();
}
