/** The page comes back where it was left. Scrolling is the reader's alone: nothing else ever moves it. */
import { keep, keptState } from './editorHost.js';

let isRestored = false;
let timer = 0;

export function keepScroll(): void {
  window.addEventListener(
    'scroll',
    () => {
      clearTimeout(timer);
      timer = window.setTimeout(() => keep({ scroll: Math.round(window.scrollY) }), 100);
    },
    { passive: true },
  );
}

/** Once, as soon as there is something to scroll. */
export function restoreScroll(): void {
  if (isRestored) return;
  isRestored = true;
  const { scroll } = keptState();
  if (scroll) requestAnimationFrame(() => window.scrollTo(0, scroll));
}
