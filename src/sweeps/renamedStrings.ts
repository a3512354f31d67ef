/** A table of two columns that says which string had which name: `old,new`. */
import { decodeText } from './decodeText.js';
import type { Delimiter } from './delimiters.js';
import { prepareTable, rowBatches } from './tableText.js';

export interface RenamedStrings {
  /** Former names, by the later ones. */
  readonly formerNames: ReadonlyMap<string, string>;
  /** `line 3: …`, in the order of the lines. */
  readonly faults: readonly string[];
}

/** Each name stands once in its column; a first line `old,new` may be left out. */
export function readRenamedStrings(bytes: Uint8Array): RenamedStrings {
  const decoded = decodeText(bytes);
  if (!decoded.ok) return { formerNames: new Map(), faults: [decoded.problem.message] };
  const text = decoded.text.replace(/^\uFEFF/, '');
  const formerNames = new Map<string, string>();
  const seen = new Set<string>();
  const faults: string[] = [];
  // None of them can be part of a name.
  const delimiter = (/[;\t,|]/.exec(text)?.[0] ?? ',') as Delimiter;
  for (const batch of rowBatches(prepareTable(text, delimiter))) {
    for (const [index, row] of batch.rows.entries()) {
      const [old = '', now = '', ...more] = row.map((field) => field.trim().normalize('NFC'));
      const line = batch.lineOf(index);
      if (row.every((field) => field.trim() === '')) continue;
      if (line === 1 && /^old$/i.test(old) && /^new$/i.test(now)) continue;
      if (old === '' || now === '' || more.some((field) => field !== ''))
        faults.push(`line ${line}: two names are expected, the old and the new one`);
      else if (seen.has(old) || formerNames.has(now))
        faults.push(`line ${line}: ${seen.has(old) ? old : now} stands in a line above already`);
      else {
        seen.add(old);
        formerNames.set(now, old);
      }
    }
  }
  return { formerNames, faults };
}
