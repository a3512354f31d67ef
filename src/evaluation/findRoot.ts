import type { Workbook } from './workbook.js';

/**
 * The campaign that a file is part of: the file at the top of the includes that lead to it, itself when none of
 * `candidates` includes it. Of several the first in the order of `candidates` is taken. Stops where includes run in a circle.
 */
export async function findRoot(
  file: string,
  candidates: readonly string[],
  workbook: Workbook,
): Promise<string> {
  const includedBy = new Map<string, string>();
  for (const candidate of candidates) {
    for (const target of await workbook.includesOf(candidate)) {
      if (target !== candidate && !includedBy.has(target)) includedBy.set(target, candidate);
    }
  }
  const seen = new Set<string>();
  let root = file;
  while (!seen.has(root)) {
    seen.add(root);
    root = includedBy.get(root) ?? root;
  }
  return root;
}
