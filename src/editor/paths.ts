/** Paths of URIs: always with `/`, always absolute. */

/** May this, written in a campaign, be taken as a path relative to its file? */
export function isRelative(written: string): boolean {
  return written !== '' && !written.includes('\0') && !/^([\\/]|[a-z][a-z0-9+.-]*:)/i.test(written);
}

/** Is `path` below `folder`? Both without `.` and `..` segments. */
export function isInside(folder: string, path: string): boolean {
  const prefix = folder.endsWith('/') ? folder : `${folder}/`;
  return path.startsWith(prefix) && path.length > prefix.length;
}

export function parentOf(path: string): string {
  return path.slice(0, Math.max(1, path.lastIndexOf('/')));
}

/** `target` as it is written in a file of `folder`: `sweeps/a.csv`, `../library.sweepbook`. */
export function relativePath(folder: string, target: string): string {
  const from = folder.split('/').filter(Boolean);
  const to = target.split('/').filter(Boolean);
  let shared = 0;
  while (shared < from.length && shared < to.length - 1 && from[shared] === to[shared]) shared++;
  return [...from.slice(shared).map(() => '..'), ...to.slice(shared)].join('/');
}
