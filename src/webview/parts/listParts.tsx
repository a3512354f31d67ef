/** What the lists of sweeps have in common around their rows. */
import { tellEditor } from '../editorHost.js';
import { byNumbers } from './sorting.js';

/** A page of more rows would be slow to lay out; the filter finds the others. */
export const mostRows = 400;

export function SearchBox(props: {
  /** For the ear. */
  readonly label: string;
  readonly placeholder: string;
  readonly words: string;
  readonly setWords: (words: string) => void;
}) {
  return (
    <input
      type="search"
      aria-label={props.label}
      placeholder={props.placeholder}
      value={props.words}
      onInput={(event) => props.setWords(event.currentTarget.value)}
    />
  );
}

export function CopyTable({ text }: { readonly text: () => string }) {
  return (
    <button
      type="button"
      class="link"
      title="Copy these rows, to be pasted into a table"
      onClick={() => tellEditor({ type: 'copy', text: text() })}
    >
      Copy table
    </button>
  );
}

/** Says how many rows stand here where they are not all. */
export function ShownCount({ found, all }: { readonly found: number; readonly all: number }) {
  return (
    <p class="small" role="status">
      {found < all || found > mostRows ? `${Math.min(found, mostRows)} of ${all} sweeps shown.` : ''}
    </p>
  );
}

/** Which sweep a row is of. */
interface SweepName {
  readonly address: string;
  readonly time: string;
}

/** The head of a row. A click on it, or Enter, rises to the row. */
export function SweepHead({ address, time }: SweepName) {
  return (
    <th role="rowheader" scope="row">
      <button type="button" class="link">
        {address}
      </button>
      <span class="time">{time}</span>
    </th>
  );
}

export const bySweep = (a: SweepName, b: SweepName): number =>
  byNumbers(a.address, b.address) || a.time.localeCompare(b.time);
