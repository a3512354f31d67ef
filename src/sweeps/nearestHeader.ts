/** The text most like `wanted`, if any is like it: at most a third of its letters wrong. */
export function nearestOf(wanted: string, texts: readonly string[]): string | undefined {
  const target = wanted.trim().toLowerCase().slice(0, 40);
  let best: string | undefined;
  let least = Math.max(1, Math.floor(target.length / 3)) + 1;
  for (const text of texts.slice(0, 300)) {
    const candidate = text.trim().toLowerCase().slice(0, 40);
    if (candidate === '') continue;
    const distance = candidate.startsWith(target) && target.length > 1 ? 1 : editDistance(target, candidate);
    if (distance < least) [best, least] = [text, distance];
  }
  return best;
}

/** Levenshtein distance: insertions, deletions and replacements of one letter. */
function editDistance(one: string, other: string): number {
  let above = Array.from({ length: other.length + 1 }, (_, at) => at);
  for (let row = 1; row <= one.length; row++) {
    const current = [row];
    for (let at = 1; at <= other.length; at++) {
      const replaced = above[at - 1]! + (one[row - 1] === other[at - 1] ? 0 : 1);
      current.push(Math.min(replaced, above[at]! + 1, current[at - 1]! + 1));
    }
    above = current;
  }
  return above[other.length]!;
}
