/**
 * Runs in the page: makes code from a string, as one of the page's own scripts, and leaves what came of it in the title.
 * Later, in a turn of its own: what the test tool itself runs is exempt from the page's policy.
 */
export function runFromString(): void {
  const script = document.createElement('script');
  script.nonce = document.querySelector<HTMLScriptElement>('script[nonce]')!.nonce;
  script.textContent = `setTimeout(() => {
    try { document.title = new Function('return "ran"')(); }
    catch (error) { document.title = error.name; }
  }, 50)`;
  document.title = 'not yet';
  document.head.append(script);
}
