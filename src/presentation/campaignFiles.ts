/** Which files speak of the same things as a file: those of every campaign that it is part of. */
import type { Document } from '../syntax/document.js';
import type { FileDocument } from './nameOccurrences.js';

/** What is asked of the files at hand; a workbook answers it. */
export interface IncludeSource {
  /** The files that a file includes directly; it is read where it is not at hand. */
  includesOf(file: string): Promise<readonly string[]>;
  /** Its latest parse, once its includes were asked for. */
  document(file: string): Document | undefined;
}

/**
 * The files of all campaigns that `file` is part of, `file` among them, in reading order. A module library that two
 * campaigns include brings both; two campaigns that share a library do not bring each other.
 * @param candidates every campaign file that there is
 */
export async function filesAround(
  file: string,
  candidates: readonly string[],
  source: IncludeSource,
): Promise<FileDocument[]> {
  const includes = new Map<string, readonly string[]>();
  const visit = async (each: string): Promise<void> => {
    if (includes.has(each)) return;
    includes.set(each, []);
    const targets = await source.includesOf(each);
    includes.set(each, targets);
    for (const target of targets) await visit(target);
  };
  for (const each of [file, ...candidates]) await visit(each);
  const included = new Set([...includes.values()].flat());
  const roots = [...includes.keys()].filter((each) => !included.has(each));
  const around = new Set<string>();
  for (const root of [...roots, file]) {
    const closure = closureOf(root, includes);
    if (closure.has(file)) for (const each of closure) around.add(each);
  }
  return [...around].flatMap((each) => {
    const document = source.document(each);
    return document ? [{ file: each, document }] : [];
  });
}

function closureOf(root: string, includes: ReadonlyMap<string, readonly string[]>): Set<string> {
  const reached = new Set<string>();
  const visit = (each: string): void => {
    if (reached.has(each)) return;
    reached.add(each);
    for (const target of includes.get(each) ?? []) visit(target);
  };
  visit(root);
  return reached;
}
