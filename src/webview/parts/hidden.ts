import { useState } from 'preact/hooks';
import { keep, keptState } from '../editorHost.js';

/** Curves that the reader has put out of sight, by name; kept with the panel. */
export function useHidden(): [ReadonlySet<string>, (name: string) => void] {
  const [hidden, setHidden] = useState<ReadonlySet<string>>(() => new Set(keptState().hidden ?? []));
  const toggle = (name: string): void => {
    const next = new Set(hidden);
    if (!next.delete(name)) next.add(name);
    keep({ hidden: [...next] });
    setHidden(next);
  };
  return [hidden, toggle];
}
