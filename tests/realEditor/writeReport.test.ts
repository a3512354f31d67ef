/** A report written in VS Code itself: what is asked, and the PDF that stands beside the campaign. */
import { cpSync, existsSync, readFileSync, statSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { readPdf } from '../report/pdfPages.js';
import { projectFolder } from './editorInstall.mjs';
import { startSession, type Session } from './session.js';

const wait = { timeout: 90_000, interval: 200 };

let session: Session;

beforeAll(async () => {
  session = await startSession((folder) =>
    cpSync(path.join(projectFolder, 'examples/harrow-fen-sample'), folder, { recursive: true }),
  );
  await session.bench.openFile('campaign.sweepbook');
});

afterAll(async () => {
  await session?.bench.page.screenshot({ path: 'screenshots/write-report-last.png' });
  await session?.stop();
});

it('asks what and how, and writes a PDF beside the campaign', async () => {
  const { bench, folder } = session;
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
