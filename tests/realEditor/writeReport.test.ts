/** A report written in VS Code itself: what is asked, and the PDF that stands beside the campaign. */
import { cpSync, existsSync, mkdtempSync, readFileSync, realpathSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { chromium, type Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { readPdf } from '../report/pdfPages.js';
import { chromiumOptions } from './chromium.js';
import { needChromium, projectFolder } from './editorInstall.mjs';
import { startEditor } from './editorServer.mjs';
import { Workbench } from './workbench.js';

const vsix = path.join(projectFolder, 'dist/sweepbook.vsix');
const folder = realpathSync(mkdtempSync(path.join(tmpdir(), 'sweepbook-report-')));
const wait = { timeout: 90_000, interval: 200 };

let server: Awaited<ReturnType<typeof startEditor>>;
let browser: Browser;
let bench: Workbench;

beforeAll(async () => {
  if (!existsSync(vsix)) throw new Error('There is no dist/sweepbook.vsix; "npm run package" makes it.');
  needChromium();
  cpSync(path.join(projectFolder, 'examples/harrow-fen-sample'), folder, { recursive: true });
  server = await startEditor({ folder, vsix });
  browser = await chromium.launch(chromiumOptions);
  const page = await (await browser.newContext({ viewport: { width: 1500, height: 950 } })).newPage();
  page.setDefaultTimeout(30_000);
  bench = new Workbench(page);
  await bench.open(server.url);
  await bench.openFile('campaign.sweepbook');
});

afterAll(async () => {
  await bench?.page.screenshot({ path: 'screenshots/write-report-last.png' });
  await browser?.close();
  await server?.stop();
  rmSync(folder, { recursive: true, force: true });
});

it('asks what and how, and writes a PDF beside the campaign', async () => {
  const { page } = bench;
  await bench.run('Sweepbook: Write Report');
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'Two pages for the client' }).click();
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'PDF' }).click();
  const target = path.join(folder, 'campaign-summary.pdf');
  // The dialog proposes a place beside the campaign.
  await settles(() => page.locator('.quick-input-box input').inputValue(), target);
  await page.keyboard.press('Enter');
  await expect.poll(() => existsSync(target) && statSync(target).size, wait).toBeGreaterThan(1000);
  const { pages, title } = await readPdf(new Uint8Array(readFileSync(target)));
  expect(title).toBe('Harrow Fen packing house, commissioning');
  expect(pages).toHaveLength(2);
  await page.locator('.notification-list-item', { hasText: 'Wrote campaign-summary.pdf.' }).waitFor();
});

const settles = (value: () => Promise<string>, expected: string): Promise<void> =>
  expect.poll(value, wait).toBe(expected);
