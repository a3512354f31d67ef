import path from 'node:path';
import { glob } from 'tinyglobby';
import type { Disk } from '../server/disk.js';
import { NodeFiles, workspaceFolderOf } from './nodeFiles.js';

/** Milliseconds after which a search gives up: somebody opened the whole disk. */
const longestSearch = 10_000;

export function nodeDisk(workingFolder: string): Disk {
  return {
    below: (folder) => new NodeFiles(folder, folder),
    folderOf: (file) => workspaceFolderOf(file, workingFolder),
    async list(folder, endings) {
      try {
        const patterns = endings.map((ending) => `**/*.${ending}`);
        const found = await glob(patterns, {
          cwd: folder,
          absolute: true,
          caseSensitiveMatch: false,
          expandDirectories: false,
          followSymbolicLinks: false,
          ignore: ['**/node_modules/**', '**/.git/**'],
          signal: AbortSignal.timeout(longestSearch),
        });
        return found.map((file) => path.resolve(file));
      } catch {
        return [];
      }
    },
  };
}
