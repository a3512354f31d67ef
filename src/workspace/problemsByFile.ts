import type { UnusedName } from '../presentation/unusedNames.js';
import type { FileProblem } from '../text/problem.js';

/** What is said of each file, gathered from campaigns. A file that several campaigns include shows each problem once. */
export class ProblemsByFile {
  readonly #byRoot = new Map<string, readonly FileProblem[]>();
  /** Only a campaign's root file has any, so no two campaigns tell of the same. */
  readonly #unused = new Map<string, readonly UnusedName[]>();

  /**
   * Replaces what was said of a campaign; `undefined` takes it all back.
   * @returns the files of which something else is to be said now
   */
  replace(
    root: string,
    problems: readonly FileProblem[] | undefined,
    unused: readonly UnusedName[] = [],
  ): ReadonlySet<string> {
    const before = this.#byRoot.get(root) ?? [];
    if (problems) {
      this.#byRoot.set(root, problems);
      this.#unused.set(root, unused);
    } else {
      this.#byRoot.delete(root);
      this.#unused.delete(root);
    }
    return new Set([root, ...[...before, ...(problems ?? [])].map((problem) => problem.file)]);
  }

  problemsOf(file: string): FileProblem[] {
    const unique = new Map<string, FileProblem>();
    for (const problems of this.#byRoot.values()) {
      for (const problem of problems) if (problem.file === file) unique.set(identity(problem), problem);
    }
    return [...unique.values()];
  }

  unusedOf(file: string): readonly UnusedName[] {
    return this.#unused.get(file) ?? [];
  }
}

function identity({ id, range: { start, end }, message }: FileProblem): string {
  return [id, start.line, start.character, end.line, end.character, message].join(' ');
}
