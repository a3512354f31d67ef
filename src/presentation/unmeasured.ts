/** Strings that the campaign declares and nobody measured: what verdicts say nothing of. */
import { namesOfRun, stringOf } from '../campaign/names.js';
import type { Evaluation } from '../evaluation/evaluation.js';

/** More are not read: where one string in ten is measured, each of the others would be in one. */
const mostRuns = 8;

/** `3 strings were not measured: S3, S5 .. S7.`; undefined where none is left, and where nothing was measured yet. */
export function unmeasuredText(evaluation: Evaluation): string | undefined {
  const names = unmeasuredStrings(evaluation);
  if (names.length === 0) return undefined;
  if (names.length === 1) return `String ${names[0]!} was not measured.`;
  const runs = runsOf(names);
  return runs.length > mostRuns
    ? `${names.length} strings were not measured, among them ${runs.slice(0, mostRuns).join(', ')}.`
    : `${names.length} strings were not measured: ${runs.join(', ')}.`;
}

/** Without a sweep and without an electrical test, of it or of a part of it; in reading order. */
function unmeasuredStrings({ campaign, sweeps, electricalTests }: Evaluation): string[] {
  const measured = new Set([...sweeps, ...electricalTests].map(({ address }) => stringOf(address)));
  return measured.size === 0 ? [] : [...campaign.strings.keys()].filter((name) => !measured.has(name));
}

/** Three names and more that count up are told by the first and the last, as the notation writes a run. */
function runsOf(names: readonly string[]): string[] {
  const runs: string[][] = [];
  for (const name of names) {
    const run = runs.at(-1);
    if (run && follows(run.at(-1)!, name)) run.push(name);
    else runs.push([name]);
  }
  return runs.flatMap((run) => (run.length < 3 ? run : [`${run[0]!} .. ${run.at(-1)!}`]));
}

function follows(one: string, next: string): boolean {
  const run = namesOfRun(one, next);
  return Array.isArray(run) && run.length === 2;
}
