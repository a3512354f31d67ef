/** The written page in a real browser: what axe-core objects to, what it asks for, and how it prints. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import { chromium, type Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { drawnHtml, emptyCampaign, everythingFailed, example, longNames } from '../report/campaigns.js';
import { readPdf } from '../report/pdfPages.js';
import { chromiumOptions } from './chromium.js';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
let browser: Browser;
beforeAll(async () => {
  browser = await chromium.launch(chromiumOptions);
});
afterAll(() => browser.close());

async function open(html: string) {
  // The page forbids scripts, and so axe-core too, unless it is let in from outside.
  const context = await browser.newContext({ bypassCSP: true, viewport: { width: 900, height: 1200 } });
  const page = await context.newPage();
  const asked: string[] = [];
  page.on('request', (request) => asked.push(request.url()));
  await page.setContent(html);
  return { page, asked, close: () => context.close() };
}

it.each([
  ['the demo', async () => drawnHtml(await example('harrow-fen-sample'))],
  ['the demo in German', async () => drawnHtml(await example('harrow-fen-sample'), { language: 'de' })],
  ['electrical tests', async () => drawnHtml(await example('electrical-tests'))],
  ['a fault list', async () => drawnHtml(await everythingFailed(3), { content: 'faults' })],
  ['an empty campaign', async () => drawnHtml(await emptyCampaign())],
] as const)('has nothing that axe-core objects to, and asks for nothing: %s', async (_name, html) => {
  const { page, asked, close } = await open(await html());
  await page.evaluate(axe);
  const { violations } = await page.evaluate(() =>
    (window as unknown as { axe: { run(): Promise<AxeResults> } }).axe.run(),
  );
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]!.html.slice(0, 200)}`)).toEqual([]);
  expect(asked).toEqual([]);
  await close();
});

it.each(['A4', 'Letter'] as const)('prints on %s with nothing cut off', async (paper) => {
  const { page, close } = await open(await drawnHtml(await longNames(), { paper }));
  const { pages } = await readPdf(new Uint8Array(await page.pdf({ preferCSSPageSize: true })));
  expect(pages.length).toBeGreaterThan(3);
  for (const { width, items } of pages) {
    expect(width).toBeCloseTo(paper === 'A4' ? 595 : 612, -1);
    for (const item of items) expect(item.right).toBeLessThanOrEqual(width - 20);
  }
  await close();
});
