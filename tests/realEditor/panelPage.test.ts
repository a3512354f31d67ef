import { readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { NodeFiles } from '../../src/cli/nodeFiles.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import type { ToPanel } from '../../src/messages/previewMessages.js';
import { campaignHead, campaignModel, previewModel } from '../../src/presentation/previewModel.js';
import { stringModel } from '../../src/presentation/stringModel.js';
import { evaluation } from '../presentation/fixture.js';
import { axeObjections, launch, openPanelPage, type PanelPage } from './panelPage.js';
import { runFromString } from './runFromString.js';
import { themes, type ThemeName } from './themes.js';

const themeNames = Object.keys(themes) as ThemeName[];

const head = campaignHead(evaluation);

/** The view of one sweep. */
function showSweep(index: number): ToPanel {
  const sweep = previewModel(evaluation, evaluation.sweeps[index]!.id);
  return { type: 'show', head, view: 'sweep', sweep };
}
const showString: ToPanel = { type: 'show', head, view: 'string', string: stringModel(evaluation, '1.03') };
const showCampaign: ToPanel = { type: 'show', head, view: 'campaign', campaign: campaignModel(evaluation) };
const views: readonly (readonly [string, ToPanel])[] = [
  ['sweep', showSweep(0)],
  ['string', showString],
  ['campaign', showCampaign],
];

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser.close());

async function withPage(
  options: Parameters<typeof openPanelPage>[1],
  use: (panel: PanelPage) => Promise<void>,
): Promise<void> {
  const panel = await openPanelPage(browser, options);
  try {
    await use(panel);
  } finally {
    await panel.page.close();
  }
}

const widthOf = (page: Page): Promise<number> => page.evaluate(() => document.documentElement.scrollWidth);

describe('the page of the curves panel', () => {
  it.each(themeNames)('draws everything in the %s theme under its security policy', async (theme) => {
    await withPage({ width: 620, theme }, async ({ page, send, complaints }) => {
      await send(showSweep(0));
      await page.screenshot({ path: `screenshots/page-${theme}.png`, fullPage: true });
      expect(await page.locator('.curves svg.marks').count()).toBe(2);
      expect(await page.locator('.curves .mark-symbol path').count()).toBe(6);
      for (const [name, message] of views.slice(1)) {
        await send(message);
        await page.screenshot({ path: `screenshots/page-${name}-${theme}.png`, fullPage: true });
        expect(await page.locator('svg.marks').count()).toBeGreaterThan(0);
      }
      expect(complaints).toEqual([]);
    });
  });

  it('refuses code made from strings', async () => {
    await withPage({ width: 620, theme: 'light' }, async ({ page, send }) => {
      await send(showSweep(0));
      await page.evaluate(runFromString);
      await expect.poll(() => page.title()).toBe('EvalError');
    });
  });

  it.each(themeNames)('has nothing that axe-core objects to in the %s theme', async (theme) => {
    await withPage({ width: 620, theme }, async ({ page, send }) => {
      for (const [name, message] of views) {
        await send(message);
        if (name === 'campaign') await page.locator('.overview summary').click();
        await page.waitForTimeout(300);
        expect(await axeObjections(page), name).toEqual([]);
      }
    });
  });

  it.each([350, 420, 620, 1300])('fits a panel %i pixels wide', async (width) => {
    await withPage({ width, theme: 'light' }, async ({ page, send }) => {
      for (let index = 0; index < evaluation.sweeps.length; index++) {
        await send(showSweep(index));
        expect(await widthOf(page)).toBeLessThanOrEqual(width);
      }
      for (const [name, message] of views.slice(1)) {
        await send(message);
        expect(await widthOf(page), name).toBeLessThanOrEqual(width);
        await page.screenshot({ path: `screenshots/page-${name}-${width}.png`, fullPage: true });
      }
      await send(showSweep(0));
      await page.screenshot({ path: `screenshots/page-${width}.png`, fullPage: true });
    });
  });

  it('puts new data into the drawn charts, keeps its scroll position and its elements', async () => {
    await withPage({ width: 620, height: 500, theme: 'light' }, async ({ page, send, complaints }) => {
      await send(showSweep(0));
      await page.evaluate(() => {
        for (const svg of document.querySelectorAll('.curves svg.marks'))
          svg.setAttribute('data-first', 'yes');
        window.scrollTo(0, 420);
      });
      // The lines above may be fewer or more than before: what is being read stays where it is.
      const readHere = () =>
        page.locator('#parameters').evaluate((title) => title.getBoundingClientRect().top);
      await page.waitForTimeout(100);
      const top = await readHere();
      const line = page.locator('.curves svg.marks .mark-line path').first();
      const before = await line.getAttribute('d');
      await send(showSweep(2));
      expect(await line.getAttribute('d')).not.toBe(before);
      expect(await page.locator('svg[data-first=yes]').count()).toBe(2);
      expect(await readHere()).toBeCloseTo(top, 0);
      expect(await page.locator('h1').textContent()).toContain('1.03');
      expect(complaints).toEqual([]);
    });
  });

  it('takes its colours from the theme anew when that changes', async () => {
    await withPage({ width: 620, theme: 'light' }, async ({ page, send, setTheme }) => {
      await send(showSweep(0));
      const stroke = () =>
        page
          .locator('.curves svg.marks .mark-line path')
          .nth(1)
          .evaluate((path) => getComputedStyle(path).stroke);
      const light = await stroke();
      await setTheme('dark');
      await page.waitForTimeout(250);
      expect(await stroke()).not.toBe(light);
    });
  });

  it('says the verdict as a word with a shape, and to a screen reader when it changes', async () => {
    await withPage({ width: 620, theme: 'light' }, async ({ page, send }) => {
      await send(showSweep(0));
      const banner = page.locator('.banner .verdict');
      expect(await banner.textContent()).toBe('■fail');
      const status = page.locator('[role=status]');
      expect(await status.textContent()).toMatch(/^1\.03, 2026-05-14 11:42: Fail/);
      await send(showSweep(2));
      expect(await banner.textContent()).toBe('●pass');
      expect(await status.textContent()).toMatch(/13:42: Pass/);
    });
  });

  it('reveals by click and by Enter', async () => {
    await withPage({ width: 620, theme: 'light' }, async ({ page, send, told }) => {
      await send(showSweep(0));
      const place = { file: evaluation.root, line: evaluation.sweeps[0]!.block.startLine };
      await page.locator('.when .link').focus();
      await page.keyboard.press('Enter');
      await page.locator('.curves .mark-symbol path').first().click();
      await page.getByRole('button', { name: 'Next sweep' }).click();
      await page.getByRole('button', { name: 'Hold' }).click();
      await page.getByRole('button', { name: 'Campaign' }).click();
      await send(showCampaign);
      await page.locator('.sweeps tbody tr').nth(3).locator('button').focus();
      await page.keyboard.press('Enter');
      await page.locator('.sweeps tbody tr').nth(4).click();
      await page.getByRole('button', { name: 'String 1.03' }).first().click();
      expect(await told()).toEqual([
        { type: 'ready' },
        { type: 'reveal', place, focus: true },
        { type: 'reveal', place, focus: false },
        { type: 'choose', sweepId: evaluation.sweeps[1]!.id },
        { type: 'hold', held: true },
        { type: 'view', view: 'campaign' },
        { type: 'choose', sweepId: evaluation.sweeps[3]!.id },
        { type: 'choose', sweepId: evaluation.sweeps[4]!.id },
        { type: 'view', view: 'string', string: '1.03' },
      ]);
    });
  });

  it('reads off every drawn curve at the pointer, and by keyboard', async () => {
    await withPage({ width: 620, theme: 'light' }, async ({ page, send }) => {
      await send(showSweep(0));
      const box = (await page.locator('.curves .drawing svg').first().boundingBox())!;
      await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
      const output = page.locator('.readoff output');
      await expect.poll(() => output.textContent()).toMatch(/^\d+\.\d V.*measured \d+\.\d\d A, \d+ W/);
      await page.mouse.move(2, 2);
      await expect.poll(() => output.textContent()).toBe('point at a curve');
      await page.locator('.readoff input').focus();
      await page.keyboard.press('ArrowRight');
      await expect.poll(() => output.textContent()).toMatch(/^1\.\d V/);
    });
  });

  it('draws what is measured less what is expected, and reads it off', async () => {
    const examples = fileURLToPath(new URL('../../examples/', import.meta.url));
    const demo = await new Workbook(new NodeFiles(examples, examples)).evaluate(
      path.join(examples, 'harrow-fen/campaign.sweepbook'),
    );
    const failed = demo.sweeps.find(
      ({ address, analysis }) => address === '1.03' && analysis.verdict === 'fail',
    )!;
    await withPage({ width: 1300, theme: 'light' }, async ({ page, send }) => {
      await send({ type: 'show', head, view: 'sweep', sweep: previewModel(demo, failed.id) });
      expect(await page.locator('.curves svg.marks').count()).toBe(3);
      await page.locator('.readoff input').fill('400');
      const output = page.locator('.readoff output');
      await expect.poll(() => output.textContent()).toMatch(/measured - expected [+-]?\d+\.\d\d A/);
      await page.screenshot({ path: 'screenshots/page-demo-sweep.png', fullPage: true });
      await send({ type: 'show', head, view: 'string', string: stringModel(demo, '1.03') });
      await page.screenshot({ path: 'screenshots/page-demo-string.png', fullPage: true });
      await send({ type: 'show', head, view: 'campaign', campaign: campaignModel(demo) });
      await page.screenshot({ path: 'screenshots/page-demo-campaign.png', fullPage: true });
    });
  });

  it('shows the stretch that was drawn over, and all of it again', async () => {
    await withPage({ width: 620, theme: 'light' }, async ({ page, send }) => {
      await send(showSweep(0));
      const axis = () => page.locator('.curves .mark-text text').allTextContents();
      const all = await axis();
      const box = (await page.locator('.curves .drawing svg').first().boundingBox())!;
      await page.mouse.move(box.x + box.width * 0.6, box.y + 60);
      await page.mouse.down();
      await page.mouse.move(box.x + box.width * 0.8, box.y + 70, { steps: 4 });
      await page.screenshot({ path: 'screenshots/page-stretch.png' });
      await page.mouse.up();
      await expect.poll(axis).not.toEqual(all);
      await page.screenshot({ path: 'screenshots/page-stretched.png' });
      await page.getByRole('button', { name: 'Show all of the curve' }).click();
      await expect.poll(axis).toEqual(all);
    });
  });

  it('puts curves out of sight, and remembers which', async () => {
    await withPage({ width: 620, theme: 'light' }, async ({ page, send, state }) => {
      await send(showSweep(0));
      const lines = () => page.locator('.curves svg.marks').first().locator('.mark-symbol path').count();
      expect(await lines()).toBe(3);
      await page.getByRole('button', { name: /nameplate at STC/ }).click();
      await expect.poll(lines).toBe(2);
      expect((await state()).hidden).toEqual(['nameplate at STC']);
    });
  });

  it('gives charts away as SVG and PNG, and the list as a table', async () => {
    await withPage({ width: 620, theme: 'light' }, async ({ page, send, told }) => {
      await send(showSweep(0));
      await page.getByRole('button', { name: 'Copy SVG' }).first().click();
      await page.getByRole('button', { name: 'Save PNG' }).first().click();
      await send(showCampaign);
      await page.getByRole('button', { name: 'Copy table' }).click();
      await expect.poll(async () => (await told()).length).toBe(4);
      const [, svg, png, table] = await told();
      expect(svg).toMatchObject({ type: 'copy', text: expect.stringMatching(/^<svg /) as unknown });
      expect(png).toMatchObject({ type: 'save', name: '1.03-current.png' });
      // The first bytes of every PNG.
      expect(atob((png as { base64: string }).base64).slice(1, 4)).toBe('PNG');
      expect((table as { text: string }).text.split('\n')[0]).toContain('Sweep\tTime\tVerdict');
    });
  });

  it('sorts and filters the list of sweeps', async () => {
    await withPage({ width: 620, theme: 'light' }, async ({ page, send }) => {
      await send(showCampaign);
      const first = () => page.locator('.sweeps tbody tr').first().locator('.number').first().textContent();
      await page.getByRole('button', { name: 'Deviation of Pmax' }).click();
      const lowest = await first();
      await page.getByRole('button', { name: 'Deviation of Pmax' }).click();
      expect(await first()).not.toBe(lowest);
      await page.getByRole('combobox', { name: 'Verdict' }).selectOption('fail');
      expect(new Set(await page.locator('.sweeps tbody .verdict').allTextContents())).toEqual(
        new Set(['■fail']),
      );
      await page.getByRole('searchbox').fill('nothing like it');
      expect(await page.locator('.sweeps tbody tr').count()).toBe(0);
    });
  });

  it('shows where the keyboard is at every stop', async () => {
    await withPage({ width: 620, theme: 'light' }, async ({ page, send }) => {
      await send(showSweep(3));
      const stops = await page.locator('a, button:enabled, summary, [tabindex="0"]').count();
      for (let stop = 0; stop < stops; stop++) {
        await page.keyboard.press('Tab');
        const outline = await page.evaluate(() => getComputedStyle(document.activeElement!).outlineStyle);
        expect(outline).not.toBe('none');
      }
    });
  });

  it('keeps what finds the same view again, and comes back to it', async () => {
    const { address, time } = evaluation.sweeps[0]!;
    await withPage({ width: 620, height: 500, theme: 'light' }, async ({ page, send, state }) => {
      await send(showSweep(0), { type: 'held', held: true });
      await page.evaluate(() => window.scrollTo(0, 300));
      await page.waitForTimeout(300);
      const kept = await state();
      expect(kept).toMatchObject({ file: evaluation.root, address, held: true, scroll: 300 });
      expect(time).toContain('11:42');
    });
    await withPage(
      { width: 620, height: 500, theme: 'light', state: { scroll: 300 } },
      async ({ page, send }) => {
        await send(showSweep(0));
        expect(await page.evaluate(() => window.scrollY)).toBe(300);
      },
    );
  });

  it('lets damaged messages pass by', async () => {
    await withPage({ width: 620, theme: 'light' }, async ({ page, send, complaints }) => {
      await send(showSweep(0));
      const damaged = [
        null,
        7,
        'sweep',
        { type: 'show', view: 'sweep', sweep: 3 },
        { type: 'show', view: 'campaign' },
        { type: 'other' },
      ];
      await send(...(damaged as ToPanel[]));
      expect(await page.locator('h1').textContent()).toContain('1.03');
      expect(complaints).toEqual([]);
    });
  });

  it('redraws the sweep in view this fast after a keystroke (told, not judged)', async () => {
    const examples = fileURLToPath(new URL('../../examples/', import.meta.url));
    const file = path.join(examples, 'harrow-fen/campaign.sweepbook');
    const text = readFileSync(file, 'utf8');
    const workbook = new Workbook(new NodeFiles(examples, examples));
    const messages: ToPanel[] = [];
    for (let irradiance = 812; irradiance < 824; irradiance++) {
      workbook.setText(file, text.replace('812 W/m2', `${irradiance} W/m2`));
      const edited = await workbook.evaluate(file);
      const { id } = edited.sweeps.find(({ address }) => address === '1.03')!;
      messages.push({
        type: 'show',
        head: campaignHead(edited),
        view: 'sweep',
        sweep: previewModel(edited, id),
      });
    }
    await withPage({ width: 620, theme: 'light' }, async ({ page, send }) => {
      await send(messages[0]!);
      const times = await page.evaluate(timeOfRedraws, messages.slice(1));
      const [best, median, worst] = [0, times.length >> 1, times.length - 1].map((at) =>
        times[at]!.toFixed(0),
      );
      console.log(`From message to painted: best ${best} ms, median ${median} ms, worst ${worst} ms`);
    });
  });
});

/** Sent one by one to the page: milliseconds from each message to the frame that shows the last change it makes, sorted. */
async function timeOfRedraws(messages: readonly unknown[]): Promise<number[]> {
  const times: number[] = [];
  for (const message of messages) {
    let painted = 0;
    const observer = new MutationObserver(() => {
      requestAnimationFrame(() => setTimeout(() => (painted = performance.now())));
    });
    observer.observe(document.body, {
      subtree: true,
      childList: true,
      attributes: true,
      characterData: true,
    });
    const start = performance.now();
    window.postMessage(message, '*');
    await new Promise((resolve) => setTimeout(resolve, 500));
    observer.disconnect();
    if (painted > 0) times.push(painted - start);
  }
  return times.sort((a, b) => a - b);
}
