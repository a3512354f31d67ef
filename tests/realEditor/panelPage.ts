/** The panel's page as the extension builds it, in a plain browser with an editor stood in for: for tests of the page alone. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import { chromium, type Browser, type Page } from 'playwright-core';
import { panelHtml } from '../../src/editor/preview/panelHtml.js';
import type { PanelState, ToEditor, ToPanel } from '../../src/messages/previewMessages.js';
import { chromiumOptions } from './chromium.js';
import { themes, type ThemeName } from './themes.js';

const origin = 'https://panel.invalid';
const root = new URL('../../', import.meta.url);

export interface PanelPage {
  readonly page: Page;
  /** What the console said of refusals and errors. */
  readonly complaints: string[];
  send(...messages: ToPanel[]): Promise<void>;
  /** What the page told the editor. */
  told(): Promise<ToEditor[]>;
  state(): Promise<PanelState>;
  setTheme(theme: ThemeName): Promise<void>;
}

export const launch = (): Promise<Browser> => chromium.launch(chromiumOptions);

export async function openPanelPage(
  browser: Browser,
  options: { width: number; height?: number; theme: ThemeName; state?: PanelState },
): Promise<PanelPage> {
  const page = await browser.newPage({ viewport: { width: options.width, height: options.height ?? 900 } });
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  const nonce = 'testnonce';
  const html = panelHtml({
    cspSource: origin,
    script: `${origin}/webview.js`,
    styles: `${origin}/preview.css`,
    nonce,
  });
  const body = { 'webview.js': 'dist/webview.js', 'preview.css': 'media/preview.css' };
  await page.route('**/*', async (route) => {
    const name = new URL(route.request().url()).pathname.slice(1);
    if (name === '') return route.fulfill({ body: html, contentType: 'text/html' });
    if (name in body) {
      const contentType = name.endsWith('.js') ? 'text/javascript' : 'text/css';
      return route.fulfill({
        body: readFileSync(new URL(body[name as keyof typeof body], root)),
        contentType,
      });
    }
    complaints.push(`asked for ${route.request().url()}`);
    return route.abort();
  });
  // Runs before the page's own script and is not bound by its policy.
  await page.addInitScript((state) => {
    const told: unknown[] = [];
    let kept: unknown = state;
    Object.assign(window, {
      sweepbookTold: told,
      sweepbookState: () => kept,
      acquireVsCodeApi: () => ({
        postMessage: (message: unknown) => told.push(message),
        getState: () => kept,
        setState: (next: unknown) => (kept = next),
      }),
    });
  }, options.state ?? null);
  await page.goto(`${origin}/`);
  const panel: PanelPage = {
    page,
    complaints,
    async send(...messages) {
      await page.evaluate((all) => all.forEach((message) => window.postMessage(message, '*')), messages);
      await page.waitForTimeout(250);
    },
    told: () => page.evaluate(() => (window as unknown as { sweepbookTold: ToEditor[] }).sweepbookTold),
    state: () =>
      page.evaluate(() => (window as unknown as { sweepbookState: () => PanelState }).sweepbookState()),
    async setTheme(theme) {
      await page.evaluate(({ class: name, variables }) => {
        const { style } = document.documentElement;
        style.cssText = '';
        for (const [key, value] of Object.entries(variables)) style.setProperty(`--vscode-${key}`, value);
        style.setProperty('--vscode-font-family', 'system-ui, "Liberation Sans", sans-serif');
        style.setProperty('--vscode-font-size', '13px');
        document.body.className = name;
      }, themes[theme]);
    },
  };
  await panel.setTheme(options.theme);
  return panel;
}

/** What axe-core objects to on the page as it is: rule and elements. */
export async function axeObjections(page: Page): Promise<(readonly [string, readonly string[]])[]> {
  const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
  await page.evaluate(axe);
  const results = await page.evaluate(() =>
    (window as unknown as { axe: { run(): Promise<AxeResults> } }).axe.run(),
  );
  return results.violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)]);
}
