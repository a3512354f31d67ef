/** What the panel refuses when something gets into its page: asked of the page in the editor itself. */
import type { FrameLocator } from 'playwright-core';

export interface Refusals {
  /** Directive of each refusal. */
  readonly directives: readonly string[];
  /** The policies that refused, as written. */
  readonly policies: readonly string[];
  /** What ran although it should not. */
  readonly ran: readonly string[];
}

/** Puts into the page what an injected text would, and tells what the browser refused. */
export function refusals(panel: FrameLocator): Promise<Refusals> {
  return panel.locator('body').evaluate(async (body) => {
    const directives: string[] = [];
    const policies = new Set<string>();
    const ran: string[] = [];
    document.addEventListener('securitypolicyviolation', (event) => {
      directives.push(event.effectiveDirective);
      policies.add(event.originalPolicy);
    });
    Object.assign(globalThis, { injected: (what: string) => ran.push(what) });
    const place = document.createElement('div');
    place.innerHTML = `<img src="https://evil.invalid/p.png" onerror="injected('attribute')"><iframe src="https://evil.invalid"></iframe>
      <object data="https://evil.invalid/o"></object><style>body { color: red }</style><base href="https://evil.invalid/">`;
    const inline = document.createElement('script');
    inline.textContent = "injected('inline script')";
    const foreign = document.createElement('script');
    foreign.src = 'https://evil.invalid/s.js';
    place.append(inline, foreign);
    body.append(place);
    await fetch('https://evil.invalid/f').catch(() => undefined);
    const code = document.createElement('button');
    code.setAttribute('onclick', "injected('click')");
    place.append(code);
    code.click();
    await new Promise((resolve) => setTimeout(resolve, 500));
    place.remove();
    return { directives: [...new Set(directives)].sort(), policies: [...policies], ran };
  });
}

/** What a page may do that has this project's policy: nothing of the above. */
export const refusedDirectives = [
  'base-uri',
  'connect-src',
  'frame-src',
  'img-src',
  'object-src',
  'script-src-attr',
  'script-src-elem',
  'style-src-elem',
];
