/** What the lists of sweeps have in common around their rows. */
import { tellEditor } from '../editorHost.js';

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
