/**
 * The packaged extension in VS Code itself, in Chromium, on a copy of the examples. The tests go on from one another, as
 * a user's session does.
 */
import {
  cpSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  realpathSync,
  rmSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { AxeResults } from 'axe-core';
import { chromium, type Browser, type Frame } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chromiumOptions } from './chromium.js';
import { needChromium, projectFolder } from './editorInstall.mjs';
import { startEditor } from './editorServer.mjs';
import { runFromString } from './runFromString.js';
import { letGoAfterFailures, Workbench } from './workbench.js';

const vsix = path.join(projectFolder, 'dist/sweepbook.vsix');
const folder = realpathSync(mkdtempSync(path.join(tmpdir(), 'sweepbook-examples-')));
const campaignFile = path.join(folder, 'harrow-fen/campaign.sweepbook');
const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const wait = { timeout: 60_000, interval: 150 };

let server: Awaited<ReturnType<typeof startEditor>>;
let browser: Browser;
let bench: Workbench;
/** What the browser said of breaches of a security policy. */
const refusals: string[] = [];

beforeAll(async () => {
  if (!existsSync(vsix)) throw new Error('There is no dist/sweepbook.vsix; "npm run package" makes it.');
  needChromium();
  cpSync(path.join(projectFolder, 'examples'), folder, { recursive: true });
  // There from the start, so that the editor finds it by its name.
  cpSync(campaignFile, path.join(folder, 'harrow-fen/as-it-grew.sweepbook'));
  server = await startEditor({ folder, vsix });
  browser = await chromium.launch(chromiumOptions);
  const page = await browser.newPage({ viewport: { width: 1500, height: 950 } });
  page.setDefaultTimeout(60_000);
  page.on('console', (message) => {
    if (/content security policy|unsafe-eval/i.test(message.text())) refusals.push(message.text());
  });
  bench = new Workbench(page);
  await bench.open(server.url);
});

letGoAfterFailures(() => bench);

afterAll(async () => {
  await bench?.page.screenshot({ path: 'screenshots/editor-last.png' });
  await browser?.close();
  await server?.stop();
  rmSync(folder, { recursive: true, force: true });
});

/** Line (from 1) of the first line of the demo's campaign that begins so. */
function lineOf(start: string): number {
  return (
    readFileSync(campaignFile, 'utf8')
      .split('\n')
      .findIndex((line) => line.startsWith(start)) + 1
  );
}

const verdict = () => bench.panel.locator('.banner .verdict').textContent();

async function panelFrame(): Promise<Frame> {
  const handle = await bench.panel.locator('body').elementHandle();
  return (await handle!.ownerFrame())!;
}

describe('a campaign with mistakes', () => {
  it('shows them in the Problems view as soon as it is opened', async () => {
    await bench.openFile('mistakes/campaign.sweepbook');
    await bench.run('Problems: Focus on Problems View');
    const texts = () => bench.problems.allTextContents();
    await expect.poll(texts, wait).toContainEqual(expect.stringContaining('There is no module `KF108N`'));
    expect((await texts()).join('\n')).toContain('The decimal sign is a point');
    await bench.page.screenshot({ path: 'screenshots/editor-problems.png' });
  });

  it('leads from a problem of the data to the line of the CSV file', async () => {
    const texts = (await bench.problems.allTextContents()).join('\n');
    expect(texts).toMatch(/G2-cut\.csv\[Ln 70, Col 1\]/);
  });

  it('mends a name by the nearest one there is', async () => {
    await bench.focusEditor();
    await bench.goTo(28, 17);
    await bench.askForMend('KF108M');
    await bench.page.keyboard.press('Enter');
    const gone = async () => (await bench.problems.allTextContents()).join('\n').includes('KF108N');
    await expect.poll(gone, wait).toBe(false);
    await bench.page.keyboard.press('Control+Z');
    await expect.poll(gone, wait).toBe(true);
  });

  it('takes its problems back when it is closed', async () => {
    await bench.run('View: Revert and Close Editor');
    await expect.poll(() => bench.problems.count(), wait).toBe(0);
    await bench.run('View: Toggle Panel Visibility');
  });
});

describe('the demo', () => {
  it('says what a word means and how a sweep came out, on hover', async () => {
    await bench.openFile('harrow-fen/campaign.sweepbook');
    // A hover that is asked for before anything is computed shows nothing, and does not come back by itself.
    await bench.page.locator('.view-lines', { hasText: 'pass, Pmax' }).first().waitFor();
    await bench.goTo(lineOf('sweep 1.03 at 2026-05-14 11:42') + 1, 5);
    await bench.run('Show or Focus Hover');
    await expect.poll(() => bench.hover.first().textContent(), wait).toMatch(/W\/m2/);
    await bench.page.screenshot({ path: 'screenshots/editor-hover-word.png' });
    await bench.page.keyboard.press('Escape');
    await bench.goTo(lineOf('sweep 1.03 at 2026-05-14 11:42'), 3);
    await bench.run('Show or Focus Hover');
    await expect.poll(() => bench.hover.first().textContent(), wait).toMatch(/fail/);
    await bench.page.screenshot({ path: 'screenshots/editor-hover-sweep.png' });
    await bench.page.keyboard.press('Escape');
  });

  it('opens the curves beside, by the button', async () => {
    await bench.page.getByRole('button', { name: /Open Curves Beside/ }).click();
    await bench.panel.locator('.curves svg.marks').nth(1).waitFor({ timeout: 60_000 });
    expect(await verdict()).toBe('■fail');
    expect(await bench.panel.locator('h1').textContent()).toContain('1.03');
    await bench.page.screenshot({ path: 'screenshots/editor-curves.png' });
  });

  it('follows the cursor', async () => {
    await bench.focusEditor();
    await bench.goTo(lineOf('sweep 2.07') + 2);
    await expect.poll(() => bench.panel.locator('h1').textContent(), wait).toContain('2.07');
    await bench.goTo(lineOf('sweep 1.03 at 2026-05-14 11:42') + 1, 15);
    await expect.poll(() => bench.panel.locator('h1').textContent(), wait).toContain('1.03');
  });

  it('changes the verdict as the irradiance is typed, and moves neither editor nor panel', async () => {
    const { page } = bench;
    const frame = await panelFrame();
    await frame.evaluate(() => {
      document.querySelector('.curves svg.marks')!.setAttribute('data-first', 'yes');
      window.scrollTo(0, 60);
    });
    const editorTop = () =>
      page
        .locator('.editor-instance .lines-content')
        .first()
        .evaluate((lines) => lines.getBoundingClientRect().top);
    const top = await editorTop();
    const at = await bench.cursor.textContent();
    await page.keyboard.press('Control+Shift+ArrowRight');
    await page.keyboard.type('312');
    await expect.poll(verdict, wait).toBe('○not judged');
    expect(await editorTop()).toBe(top);
    expect(await bench.cursor.textContent()).toBe(at!.replace('Col 15', 'Col 18'));
    expect(await frame.evaluate(() => window.scrollY)).toBe(60);
    expect(await frame.locator('svg[data-first=yes]').count()).toBe(1);
    await page.screenshot({ path: 'screenshots/editor-not-judged.png' });
    for (let key = 0; key < 3; key++) await page.keyboard.press('Control+Z');
    await expect.poll(verdict, wait).toBe('■fail');
  });

  it('reveals the line of a sweep that is clicked in the panel', async () => {
    const line = lineOf('sweep 2.05');
    await bench.view('Campaign');
    await bench.panel.locator('.sweeps tbody tr', { hasText: '2.05' }).click();
    await expect.poll(() => bench.activeLine.textContent(), wait).toBe(String(line));
    await expect.poll(() => bench.panel.locator('h1').textContent(), wait).toContain('2.05');
  });

  it('goes to the limit that a reason speaks of', async () => {
    await bench.view('Campaign');
    await bench.panel.locator('.sweeps tbody tr', { hasText: '2026-05-14 11:42' }).click();
    await expect.poll(() => bench.panel.locator('h1').textContent(), wait).toContain('1.03');
    const reason = bench.panel.locator('.deciding .link').first();
    const symbol = /^(\w+) deviates/.exec((await reason.textContent())!)![1]!;
    await reason.press('Enter');
    await expect.poll(() => bench.cursor.textContent(), wait).toContain(`Ln ${lineOf(`  ${symbol} `)},`);
  });

  it('finds definitions across files', async () => {
    await bench.goTo(lineOf('sweep 1.03 at 2026-05-14 11:42') + 4, 16);
    await bench.run('Go to Definition');
    await bench.page.locator('.tab.active', { hasText: 'array.sweepbook' }).waitFor();
    await bench.openFile('harrow-fen/campaign.sweepbook');
  });

  it('lists sweeps in the outline', async () => {
    await bench.page.keyboard.press('Control+Shift+O');
    const rows = bench.page.locator('.quick-input-list .monaco-list-row');
    await expect.poll(async () => (await rows.allTextContents()).join('\n'), wait).toContain('1.01');
    await bench.page.keyboard.press('Escape');
  });

  it('offers the words of the notation while one is typed', async () => {
    const { page } = bench;
    await bench.goTo(lineOf('sweep 1.03 at 2026-05-14 11:42') + 1, 1);
    await page.keyboard.press('Home');
    await page.keyboard.press('Control+Enter');
    await page.keyboard.type('rem');
    const offered = page.locator('.suggest-widget .monaco-list-row', { hasText: 'remark' });
    await offered.first().waitFor();
    await page.keyboard.press('Escape');
    for (let key = 0; key < 5; key++) await page.keyboard.press('Control+Z');
    await page.locator('.editor-group-container .tab.active:not(.dirty)').first().waitFor();
  });

  it('takes up a table that changes, goes and comes back on disk', async () => {
    const table = path.join(folder, 'harrow-fen/sweeps/1.01.csv');
    const good = readFileSync(table);
    const row = () =>
      bench.panel.locator('.sweeps tbody tr', { hasText: '1.01' }).first().locator('.verdict').textContent();
    await bench.view('Campaign');
    await expect.poll(row, wait).toBe('●pass');
    writeFileSync(table, 'V (V),I (A)\n');
    await expect.poll(row, wait).toBe('○not judged');
    writeFileSync(table, good);
    await expect.poll(row, wait).toBe('●pass');
    unlinkSync(table);
    await expect.poll(row, wait).toBe('○not judged');
    await expect
      .poll(() => bench.panel.locator('.campaign .problems').textContent(), wait)
      .toContain('1.01.csv');
    await bench.page.screenshot({ path: 'screenshots/editor-campaign.png' });
    writeFileSync(table, good);
    await expect.poll(row, wait).toBe('●pass');
  });
});

describe('the case of 1.03', () => {
  const file = 'harrow-fen/as-it-grew.sweepbook';
  const whole = () => readFileSync(campaignFile, 'utf8');
  const state = () => bench.panel.locator('.banner .verdict').textContent();
  const grown = (before: string) =>
    writeFileSync(path.join(folder, file), whole().slice(0, whole().indexOf(before)));

  it('is open when the string has failed, and says what to measure next', async () => {
    grown('sweep 1.03/1-9');
    // In the column of the texts, not in that of the panel.
    await bench.focusEditor();
    await bench.openFile(file);
    await bench.goTo(lineOf('sweep 1.03 at 2026-05-14 11:42') + 1);
    await bench.view('String');
    await expect.poll(state, wait).toBe('■open');
    expect(await bench.panel.locator('.banner').textContent()).toMatch(/sweep the half 1\.03\/1-9/);
    expect(await bench.panel.locator('.cautions').textContent()).toMatch(/DC arc does not go out by itself/);
    await bench.page.screenshot({ path: 'screenshots/case-open.png' });
  });

  it('is located by the sweep of module 11', async () => {
    grown('replace 1.03/11');
    await expect.poll(state, wait).toBe('◆located');
    expect(await bench.panel.locator('.banner').textContent()).toMatch(/1\.03\/11/);
    expect(await bench.panel.locator('.modules li').nth(10).getAttribute('title')).toMatch(/^faulty/);
    await bench.page.screenshot({ path: 'screenshots/case-located.png' });
  });

  it('waits for its counter-check when the module was replaced', async () => {
    grown('sweep 1.03/11 at 2026-05-14 13:31');
    await expect.poll(state, wait).toBe('▲replaced');
    await bench.page.screenshot({ path: 'screenshots/case-replaced.png' });
  });

  it('is closed by the counter-check, and what was found explains what it lacked', async () => {
    grown('# Inverter 2');
    await expect.poll(state, wait).toBe('★verified');
    expect(await bench.panel.locator('.remarks').textContent()).toMatch(/1\.03 lacks \d+ W ± \d+ W/);
    await bench.page.screenshot({ path: 'screenshots/case-verified.png' });
    await bench.focusEditor();
    await bench.openFile('harrow-fen/campaign.sweepbook');
  });
});

describe('the panel', () => {
  it('stays at a sweep while it is held', async () => {
    await bench.view('Campaign');
    await bench.panel.locator('.sweeps tbody tr', { hasText: '2026-05-14 11:42' }).click();
    await expect.poll(() => bench.panel.locator('h1').textContent(), wait).toContain('1.03');
    await bench.panel.locator('.hold').click();
    await expect.poll(() => bench.panel.locator('.hold').getAttribute('aria-pressed'), wait).toBe('true');
    await bench.focusEditor();
    await bench.goTo(lineOf('sweep 2.07') + 2);
    await bench.page.waitForTimeout(600);
    expect(await bench.panel.locator('h1').textContent()).toContain('1.03');
  });

  it('is the same again after the window was loaded anew', async () => {
    const frame = await panelFrame();
    await frame.evaluate(() => window.scrollTo(0, 120));
    // In the browser the editor writes down such state every five seconds, when it is idle.
    await bench.page.waitForTimeout(12_000);
    await bench.page.reload();
    await bench.panel.locator('.curves svg.marks').nth(1).waitFor({ timeout: 60_000 });
    expect(await bench.panel.locator('h1').textContent()).toContain('1.03');
    expect(await bench.panel.locator('.hold').getAttribute('aria-pressed')).toBe('true');
    await expect.poll(async () => (await panelFrame()).evaluate(() => window.scrollY), wait).toBe(120);
    await bench.panel.locator('.hold').click();
  });

  it.each([
    ['light', 'Light Modern'],
    ['dark', 'Dark Modern'],
    ['contrast-dark', 'Dark High Contrast'],
    ['contrast-light', 'Light High Contrast'],
  ])('reads well in the %s theme', async (name, theme) => {
    await bench.setTheme(theme);
    const frame = await panelFrame();
    await frame.evaluate(axeSource);
    for (const view of ['Campaign', 'String', 'Sweep'] as const) {
      await bench.view(view);
      await bench.panel.locator('main svg.marks').first().waitFor();
      await frame.evaluate(() => window.scrollTo(0, 0));
      await bench.page.screenshot({ path: `screenshots/editor-${name}-${view.toLowerCase()}.png` });
      const results = await frame.evaluate(() =>
        (window as unknown as { axe: { run(): Promise<AxeResults> } }).axe.run(),
      );
      const objections = results.violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)]);
      expect(objections, view).toEqual([]);
      expect(await contrasts(frame), view).toEqual([]);
    }
  });

  it('lives under its security policy: nothing refused so far, and code from strings refused', async () => {
    expect(refusals).toEqual([]);
    const frame = await panelFrame();
    await frame.evaluate(runFromString);
    await expect.poll(() => frame.evaluate(() => document.title), wait).toBe('EvalError');
  });
});

/** Curves whose colour has less than 3:1 against the panel (WCAG 2.2, 1.4.11). */
function contrasts(frame: Frame): Promise<string[]> {
  return frame.evaluate(() => {
    const luminance = (colour: string): number => {
      const [red, green, blue] = colour
        .match(/[\d.]+/g)!
        .slice(0, 3)
        .map((part) => {
          const share = Number(part) / 255;
          return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
        });
      return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
    };
    const ground = luminance(getComputedStyle(document.body).backgroundColor);
    const lines = [...document.querySelectorAll('.mark-line path')].map(
      (path) => getComputedStyle(path).stroke,
    );
    return lines.filter((stroke) => {
      const [low, high] = [luminance(stroke), ground].sort((a, b) => a - b);
      return (high! + 0.05) / (low! + 0.05) < 3 || /rgba\(.*, 0?\.\d+\)$/.test(stroke);
    });
  });
}
