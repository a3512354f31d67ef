/** Tables brought into a campaign in VS Code itself: from the explorer, by drag and drop, by pasted paths. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { campaignText } from '../bringIn/campaign.js';
import * as foreign from '../bringIn/foreignTables.js';
import { sweepText } from '../sweeps/fixtures.js';
import { startSession, type Session } from './session.js';
import { letGoAfterFailures, type Workbench } from './workbench.js';

const wait = { timeout: 60_000, interval: 150 };

let session: Session;
let bench: Workbench;
let campaignFile: string;

function fill(folder: string): void {
  mkdirSync(path.join(folder, 'logger'));
  const plain = sweepText(foreign.points, { header: ['U (V)', 'I (A)'] });
  writeFileSync(path.join(folder, 'c.sweepbook'), campaignText);
  writeFileSync(path.join(folder, 'logger/a-log.csv'), foreign.fourteenLines);
  writeFileSync(path.join(folder, 'logger/b-1.04.csv'), 'only words\n');
  writeFileSync(path.join(folder, 'logger/INV2-S07_2026-05-14_1130.csv'), plain);
  writeFileSync(path.join(folder, 'dropped.csv'), foreign.tabsReversed);
  writeFileSync(path.join(folder, 'pasted.csv'), foreign.barsAndMonthName);
}

beforeAll(async () => {
  session = await startSession(fill);
  ({ bench } = session);
  campaignFile = path.join(session.folder, 'c.sweepbook');
  await bench.openFile('c.sweepbook');
  // The view comes with the campaign, and with it the entries of the explorer's menu.
  await bench.page.locator('.pane-header', { hasText: 'Strings' }).first().waitFor();
});

letGoAfterFailures(() => bench);

afterAll(async () => {
  await bench?.page.screenshot({ path: 'screenshots/bring-in-last.png' });
  await session?.stop();
});

const inExplorer = (name: string) =>
  bench.page.locator('.explorer-folders-view .monaco-list-row', { hasText: name }).first();
const rows = () => bench.page.locator('.quick-input-list .monaco-list-row');
const title = () => bench.page.locator('.quick-input-title').textContent();
/** Saves until the file holds what is expected: the window takes keys in before it has acted on the ones before. */
const saved = () =>
  expect.poll(async () => {
    await bench.page.keyboard.press('Control+S');
    return readFileSync(campaignFile, 'utf8');
  }, wait);

async function answer(question: RegExp, text?: string): Promise<void> {
  await expect.poll(title, wait).toMatch(question);
  if (text !== undefined) await bench.page.locator('.quick-input-widget input').first().fill(text);
  await bench.page.keyboard.press('Enter');
}

it('shows what it understood of a folder, asks what is missing, and writes it as one step', async () => {
  const { page } = bench;
  await bench.chooseFromMenu(inExplorer('logger'), 'Bring Sweeps In');
  await expect.poll(title, wait).toBe('Bring Sweeps In: what was understood');
  const texts = (await rows().allTextContents()).join('\n');
  expect(texts).toContain('1.03  2026-05-14 11:42:10');
  expect(texts).toContain('90 points, Isc 11.20 A, Voc 640');
  expect(texts).toContain('asked next: irradiance, temperature');
  expect(texts).toContain('logger/b-1.04.csv');
  await page.screenshot({ path: 'screenshots/bring-in-understood.png' });
  await page.keyboard.press('Enter');
  await answer(/1130\.csv: Irradiance/, '812');
  await page.locator('.quick-input-message', { hasText: /unit/ }).first().waitFor();
  await page.screenshot({ path: 'screenshots/bring-in-asked.png' });
  await answer(/Irradiance/, '805 W/m2');
  await answer(/1130\.csv: Temperature/, '43.5 degC cell');
  await answer(/^Tracer and reference/);
  await bench.panel.locator('.curves svg.marks').first().waitFor({ timeout: 60_000 });
  expect(await bench.panel.locator('h1').textContent()).toContain('INV2-S07');
  await page.screenshot({ path: 'screenshots/bring-in-curves.png' });
  await bench.focusEditor();
  await saved().toBe(`${campaignText}
sweep INV2-S07 at 2026-05-14 11:30
  irradiance  805 W/m2
  temperature 43.5 degC cell
  data        "logger/INV2-S07_2026-05-14_1130.csv"
  with        T1, RC1

sweep 1.03 at 2026-05-14 11:42:10
  irradiance  812.5 W/m2
  temperature 44.1 degC cell
  data        "logger/a-log.csv"
  with        T1, RC1
`);
  await page.keyboard.press('Control+Z');
  await saved().toBe(campaignText);
});

it('takes a table that is dropped into the text', async () => {
  const { page } = bench;
  const from = (await inExplorer('dropped.csv').boundingBox())!;
  await bench.focusEditor();
  await page.keyboard.press('Control+Home');
  // The order of the lines in the page is not that on the screen; the empty one after the module is meant.
  const last = (await page.locator('.view-line', { hasText: /gamma/ }).first().boundingBox())!;
  const to = { x: last.x, y: last.y + last.height, height: last.height };
  await page.mouse.move(from.x + 40, from.y + from.height / 2);
  await page.mouse.down();
  await page.mouse.move(from.x + 90, from.y + 30, { steps: 4 });
  await page.keyboard.down('Shift');
  await page.mouse.move(to.x + 60, to.y + to.height / 2, { steps: 12 });
  await page.waitForTimeout(500);
  await page.screenshot({ path: 'screenshots/bring-in-dragging.png' });
  await page.mouse.up();
  await page.keyboard.up('Shift');
  await page
    .locator('.view-line', { hasText: /sweep.1\.04.at/ })
    .first()
    .waitFor();
  await page.screenshot({ path: 'screenshots/bring-in-dropped.png' });
  await saved().toContain(
    '/K\n\nsweep 1.04 at 2026-05-14 11:55+01:00\n  irradiance  815.3 W/m2\n  temperature 41.2 degC module\n  data        "dropped.csv"\n  with        T1, RC1\n\nstring',
  );
});

it('takes paths that are pasted on an empty line, with a tab stop for what is missing', async () => {
  const { page } = bench;
  await bench.focusEditor();
  await page.keyboard.press('Control+End');
  await page.evaluate(() => navigator.clipboard.writeText('pasted.csv'));
  await page.keyboard.press('Control+V');
  await page
    .locator('.view-line', { hasText: /sweep.1\.06.at/ })
    .first()
    .waitFor();
  await page.screenshot({ path: 'screenshots/bring-in-pasted.png' });
  await page.keyboard.press('Escape');
  await saved().toContain('sweep 1.06 at 2026-05-14 12:24\n  irradiance  826 W/m2\n  temperature 45.3 degC');
});
