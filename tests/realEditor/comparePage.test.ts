/** The page of the panel that compares with a revision. The campaign is the demo, which is invented. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Difference } from '../../src/difference/difference.js';
import type { ToPanel } from '../../src/messages/previewMessages.js';
import { differenceModel } from '../../src/presentation/differenceModel.js';
import { demoEvaluation, difference, edited, harrowFen } from '../difference/campaigns.js';
import { axeObjections, launch, openPanelPage, type PanelPage } from './panelPage.js';
import { themes, type ThemeName } from './themes.js';

const themeNames = Object.keys(themes) as ThemeName[];

let browser: Browser;
let found: Difference;
beforeAll(async () => {
  browser = await launch();
  // A limit that some strings no longer keep, a coefficient, and a name from which nothing is computed.
  const renamed = edited(harrowFen, 'campaign.sweepbook', 'Fenside Growers', 'Fenside Growers East');
  const campaign = edited(renamed, 'campaign.sweepbook', /Pmax +-5 % \.\./, 'Pmax       -0.5 % ..');
  found = await difference(demoEvaluation(), edited(campaign, 'modules.sweepbook', '-0.27 %/K', '-0.30 %/K'));
});
afterAll(() => browser.close());

const display = (file: string): string => file.slice(file.lastIndexOf('/') + 1);

function show(address?: string): ToPanel {
  const choose = (sweeps: Difference['after']['sweeps']) => sweeps.find((each) => each.address === address);
  const model = differenceModel(
    found,
    'v1.0 (3f2a91c, 2026-11-20)',
    { before: display, after: display },
    choose,
  );
  return { type: 'difference', difference: model };
}

async function withPage(
  width: number,
  theme: ThemeName,
  use: (panel: PanelPage) => Promise<void>,
): Promise<void> {
  const panel = await openPanelPage(browser, { width, theme });
  try {
    await use(panel);
  } finally {
    await panel.page.close();
  }
}

describe('the page of a comparison', () => {
  it.each(themeNames)('is drawn in the %s theme, and axe-core objects to nothing', async (theme) => {
    await withPage(620, theme, async ({ page, send, complaints }) => {
      await send(show());
      await page.locator('.difference details summary').click();
      expect(await page.locator('svg.marks').count()).toBe(2);
      await page.screenshot({ path: `screenshots/page-compare-${theme}.png`, fullPage: true });
      expect(await axeObjections(page)).toEqual([]);
      expect(complaints).toEqual([]);
    });
  });

  it.each([350, 620, 1300])('fits a panel %i pixels wide', async (width) => {
    await withPage(width, 'light', async ({ page, send }) => {
      await send(show());
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      const list = page.locator('.compared-list');
      expect(await list.evaluate((each) => each.scrollWidth - each.clientWidth)).toBeLessThanOrEqual(0);
      const edges = await page
        .locator('table')
        .evaluateAll((all) => all.map((table) => Math.ceil(table.getBoundingClientRect().right)));
      for (const edge of edges) expect(edge).toBeLessThanOrEqual(width);
      await page.screenshot({ path: `screenshots/page-compare-${width}.png`, fullPage: true });
    });
  });

  it('says verdicts as words with shapes, and that they turned', async () => {
    await withPage(620, 'light', async ({ page, send }) => {
      await send(show());
      const turned = found.verdicts[0]!;
      const words = await page.locator('.banner > .turned .verdict').allTextContents();
      expect(words.map((word) => word.slice(1))).toEqual([turned.before, turned.after]);
      expect(new Set(words.map((word) => word[0])).size).toBe(2);
      expect(await page.locator('.banner .turned').textContent()).toContain('turned to');
    });
  });

  it('sorts and filters its sweeps, and gives them away as a table', async () => {
    await withPage(620, 'light', async ({ page, send, told }) => {
      await send(show());
      const rows = page.locator('.compared tbody tr');
      const all = await rows.count();
      await page.getByRole('combobox', { name: 'What happened' }).selectOption('verdict turned');
      expect(await rows.count()).toBe(found.verdicts.length);
      expect(found.verdicts.length).toBeLessThan(all);
      await page.getByRole('combobox', { name: 'What happened' }).selectOption('moved or turned');
      await page.getByRole('combobox', { name: 'Cause' }).selectOption('beta of module KF108M');
      expect(await rows.count()).toBe(found.moved.length);
      const changes = async () =>
        (await page.locator('.compared .also > .whole').allTextContents()).map(Number.parseFloat);
      await page.getByRole('button', { name: 'Change', exact: true }).click();
      const rising = await changes();
      expect(rising).toEqual([...rising].sort((a, b) => a - b));
      await page.getByRole('searchbox').fill('1.02');
      expect(await rows.count()).toBe(1);
      await page.getByRole('button', { name: 'Copy table' }).click();
      const [, copied] = await told();
      expect((copied as { text: string }).text).toMatch(/^Sweep\tTime\tVerdict.*\n1\.02\t2026-05-14 11:31\t/);
    });
  });

  it('chooses and reveals by keyboard', async () => {
    await withPage(620, 'light', async ({ page, send, told }) => {
      await send(show());
      const message = show();
      const { sweeps, sections } = message.type === 'difference' ? message.difference : never();
      await page.locator('.compared tbody tr').nth(1).locator('button').focus();
      await page.keyboard.press('Enter');
      await page.locator('section[aria-label=Why] .link').first().focus();
      await page.keyboard.press('Enter');
      await page.locator('.compared-sweep .when .link').focus();
      await page.keyboard.press('Enter');
      await page.getByRole('button', { name: 'Other Revision' }).click();
      expect(await told()).toEqual([
        { type: 'ready' },
        { type: 'choose', sweepId: sweeps[1]!.id },
        { type: 'revealChange', ...sections[0]!.items![0]!.at },
        { type: 'revealChange', ...sweeps[0]!.at },
        { type: 'askRevision' },
      ]);
    });
  });

  it('tells while it is computed anew, and stays at what was chosen', async () => {
    await withPage(620, 'light', async ({ page, send, state }) => {
      const file = 'file:///fen/campaign.sweepbook';
      await send(show('2.01'), { type: 'comparing', file, revision: 'v1.0', commit: '3f2a91c' });
      const status = page.locator('.views [role=status]');
      expect(await status.textContent()).toBe('Comparing …');
      expect(await page.locator('#compared').textContent()).toContain('2.01');
      await send(show('2.01'));
      expect(await status.textContent()).toBe('');
      // Enough to compare again when the window was closed in between.
      expect(await state()).toMatchObject({ file, revision: 'v1.0', commit: '3f2a91c', address: '2.01' });
      await send({ type: 'nothing', text: 'campaign.sweepbook is not there in v1.0.' });
      expect(await page.locator('.nothing').textContent()).toContain('not there in v1.0');
    });
  });
});

function never(): never {
  throw new Error('not a difference');
}
