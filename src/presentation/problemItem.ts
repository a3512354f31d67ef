import type { FileProblem } from '../text/problem.js';
import type { ProblemItem } from './previewTypes.js';

/** A problem with places as hosts of pages and panels use them. */
export function problemItem(problem: FileProblem): ProblemItem {
  return {
    id: problem.id,
    severity: problem.severity,
    message: problem.message,
    place: { file: problem.file, line: problem.range.start.line },
    related: (problem.related ?? []).map(({ message, place }) => ({
      message,
      place: { file: place.file, line: place.range.start.line },
    })),
  };
}
