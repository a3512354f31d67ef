/** The candidate that `word` was most likely meant to be; undefined when none is near. */
export function nearest(word: string, candidates: Iterable<string>): string | undefined {
  if (word.length > 64) return undefined;
  const lower = word.toLowerCase();
  let limit = Math.max(1, Math.floor(word.length / 3));
  let best: string | undefined;
  for (const candidate of candidates) {
    if (candidate === word) continue;
    const other = candidate.toLowerCase();
    if (other === lower) return candidate;
    if (Math.abs(other.length - lower.length) > limit) continue;
    const distance = editDistance(lower, other);
    if (distance > limit || (distance === limit && best !== undefined)) continue;
    best = candidate;
    limit = distance;
  }
  return best;
}

/** Single-character insertions, deletions, changes and swaps of neighbours (Damerau 1964, restricted form). */
function editDistance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = last[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      row[j] = Math.min(change, last[j]! + 1, row[j - 1]! + 1);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        row[j] = Math.min(row[j]!, beforeLast[j - 2]! + 1);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length]!;
}
