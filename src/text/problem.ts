import { shiftRange, type Place, type Range } from './place.js';

export type Severity = 'error' | 'warning' | 'information';

/** A place elsewhere that explains the problem, such as the row of a CSV file. */
export interface RelatedPlace {
  readonly place: Place;
  readonly message: string;
}

/** A mend that a host may offer: replace `range` of the problem's file by `text`. */
export interface Mend {
  readonly title: string;
  readonly range: Range;
  readonly text: string;
}

/**
 * One mistake, said once, at the place that causes it. `id` is stable (tests and hosts compare ids; the wording may
 * change) and reads `area/what`, for example `units/wrong-dimension`.
 */
export interface Problem {
  readonly id: string;
  readonly severity: Severity;
  /** One sentence or two: what is wrong, and what would be right. */
  readonly message: string;
  readonly range: Range;
  readonly related?: readonly RelatedPlace[];
  readonly mends?: readonly Mend[];
}

/** A problem with the file it stands in. */
export interface FileProblem extends Problem {
  readonly file: string;
}

/**
 * The problem at its place in the file.
 * @param each with lines that count from `startLine`, save in its related places
 */
export function problemInFile(
  { file, startLine }: { readonly file: string; readonly startLine: number },
  each: Problem,
): FileProblem {
  const range = shiftRange(each.range, startLine);
  const mends = each.mends?.map((mend) => ({ ...mend, range: shiftRange(mend.range, startLine) }));
  return { ...each, file, range, ...(mends ? { mends } : {}) };
}
