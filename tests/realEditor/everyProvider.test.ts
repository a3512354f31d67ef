/**
 * Each kind of help that no other session uses, once and by keyboard: lenses, marks in the margin, tree, status bar, settings, links,
 * selections, folding, colours of names, formatting of a part, unused names, walkthrough, a new campaign, the demo.
 */
import { cpSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { projectFolder } from './editorInstall.mjs';
import { startSession, type Session } from './session.js';
import { letGoAfterFailures, type Workbench } from './workbench.js';

const wait = { timeout: 30_000, interval: 100 };
const campaign = 'roof/campaign.sweepbook';
const array = 'roof/array.sweepbook';

let session: Session;
let bench: Workbench;

/** The demo before its module was replaced, so that a case is open; with an instrument that nothing uses. */
function fill(folder: string): void {
  cpSync(path.join(projectFolder, 'examples/harrow-fen'), path.join(folder, 'roof'), { recursive: true });
  const text = readFileSync(path.join(folder, campaign), 'utf8');
  const found = text.slice(0, text.indexOf('replace 1.03/11'));
  writeFileSync(path.join(folder, campaign), `${found}tracer T9\n    voltage ± 0.5 %\n    current ± 0.5 %\n`);
}

beforeAll(async () => {
  session = await startSession(fill, { 'files.autoSave': 'off', 'editor.stickyScroll.enabled': false });
  bench = session.bench;
  await bench.openFile(campaign);
});

letGoAfterFailures(() => bench);

afterAll(async () => {
  await bench?.page.screenshot({ path: 'screenshots/provider-last.png' });
  await session?.stop();
});

const lineOf = (file: string, start: string): number =>
  readFileSync(path.join(session.folder, file), 'utf8')
    .split('\n')
    .findIndex((line) => line.startsWith(start)) + 1;

const shot = (name: string) => bench.page.screenshot({ path: `screenshots/provider-${name}.png` });
const lenses = () => bench.page.locator('.codelens-decoration').allTextContents();
const treeRows = () =>
  bench.page.locator('.pane', { hasText: 'Strings' }).locator('.monaco-list-row').allTextContents();

/** Pictures in the margin of the lines in view. */
const marks = () =>
  bench.page
    .locator('.glyph-margin-widgets > *, .glyph-margin .cgmr')
    .evaluateAll((all) =>
      all.map((each) => getComputedStyle(each).backgroundImage).filter((image) => image.includes('svg')),
    );

const hints = () => bench.page.locator('.view-lines', { hasText: /(pass|fail),\sPmax/ }).count();

/** Of the workspace; the window sees the file change. */
function set(settings: Record<string, unknown>): void {
  const folder = path.join(session.folder, '.vscode');
  mkdirSync(folder, { recursive: true });
  const all = Object.entries(settings).map(([name, value]) => [`sweepbook.${name}`, value]);
  writeFileSync(path.join(folder, 'settings.json'), JSON.stringify(Object.fromEntries(all)));
}

describe('what is read beside the text', () => {
  it('counts above the campaign, and opens the whole of it from the keyboard', async () => {
    const { page } = bench;
    await expect.poll(lenses, wait).toContainEqual(expect.stringMatching(/\d+ sweeps: .*\d+ fail/));
    await bench.goTo(lineOf(campaign, 'campaign '));
    await bench.run('Show CodeLens Commands for Current Line');
    await page.locator('.quick-input-list .monaco-list-row', { hasText: 'sweeps:' }).first().waitFor();
    await page.keyboard.press('Enter');
    await bench.panel.locator('.views [aria-current=page]', { hasText: 'Campaign' }).waitFor();
    await bench.focusEditor();
  });

  it('marks the line of each sweep in a shape of its verdict', async () => {
    await bench.goTo(lineOf(campaign, 'sweep 1.03 at'));
    await expect.poll(async () => new Set(await marks()).size, wait).toBeGreaterThan(1);
    await shot('marks');
  });

  it('says the state of a case above its string, and opens the string', async () => {
    await bench.openFile(array);
    await expect
      .poll(lenses, wait)
      .toContainEqual(expect.stringMatching(/6 of 6 strings measured: .*1 located/));
    await bench.goTo(lineOf(array, 'string 1.01'));
    await shot('lenses');
    const lens = bench.page.locator('.codelens-decoration a', { hasText: 'strings measured' }).first();
    // A lens that is drawn anew under the pointer takes no click.
    const opened = async () => {
      await lens.click();
      return bench.panel.locator('h1').textContent();
    };
    await expect.poll(opened, { ...wait, interval: 1000 }).toContain('1.03');
    await bench.panel.locator('.views [aria-current=page]', { hasText: 'String' }).waitFor();
  });

  it('counts in the status bar, in marks that differ in shape', async () => {
    const item = bench.page.locator('[id$="sweepbook.counts"]');
    await expect.poll(() => item.textContent(), wait).toMatch(/● \d+ .*■ \d+/);
    expect(await item.locator('a').getAttribute('aria-label')).toMatch(/sweeps: \d+ pass/);
  });

  it('lists strings in the explorer, those that need work alone where that is wanted, and goes to their lines', async () => {
    const { page } = bench;
    await bench.run('Explorer: Focus on Strings View');
    await expect.poll(treeRows, wait).toContainEqual(expect.stringContaining('1.02'));
    await bench.run('Sweepbook: Show Only Strings That Need Work');
    await expect.poll(treeRows, wait).not.toContainEqual(expect.stringContaining('1.02'));
    expect((await treeRows()).join('\n')).toContain('1.03');
    await shot('tree');
    await bench.run('Explorer: Focus on Strings View');
    // Site, plane, string.
    await page.keyboard.press('Home');
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await page.locator('.tab.active', { hasText: 'array.sweepbook' }).waitFor();
    await expect
      .poll(() => bench.cursor.textContent(), wait)
      .toContain(`Ln ${lineOf(array, 'string 1.01')},`);
    await page.locator('.editor-group-container.active .monaco-editor.focused').waitFor();
    await bench.run('Sweepbook: Show All Strings');
    await expect.poll(treeRows, wait).toContainEqual(expect.stringContaining('1.02'));
  });
});

describe('settings', () => {
  it('take marks, lenses and values away at once, and bring verdicts into the list of problems', async () => {
    await bench.openFile(campaign);
    await bench.goTo(lineOf(campaign, 'campaign '));
    await expect.poll(hints, wait).toBeGreaterThan(0);
    await expect.poll(async () => (await lenses()).length, wait).toBeGreaterThan(0);
    set({ inlayVerdicts: false, lenses: false, gutterVerdicts: false, verdictsAsProblems: 'warning' });
    await expect.poll(hints, wait).toBe(0);
    await expect.poll(lenses, wait).toEqual([]);
    await expect.poll(marks, wait).toEqual([]);
    await bench.run('Problems: Focus on Problems View');
    const texts = async () => (await bench.problems.allTextContents()).join('\n');
    await expect.poll(texts, wait).toMatch(/1\.03.*fail/);
    await shot('verdicts-as-problems');
    set({});
    await expect.poll(texts, wait).not.toMatch(/1\.03.*: fail/);
    await expect.poll(hints, wait).toBeGreaterThan(0);
    await expect.poll(async () => (await lenses()).length, wait).toBeGreaterThan(0);
    await bench.run('View: Toggle Panel Visibility');
    await bench.focusEditor();
  });
});

describe('moving in a text', () => {
  it('follows a path to its table', async () => {
    await bench.goTo(lineOf(campaign, 'sweep 1.01') + 4, 24);
    await bench.run('Open Link');
    await bench.page.locator('.tab.active', { hasText: '1.01.csv' }).waitFor();
    await bench.run('View: Close Editor');
  });

  it('grows a selection from a word to its block', async () => {
    const { page } = bench;
    await bench.goTo(lineOf(campaign, 'sweep 1.03 at') + 1, 16);
    const selected = async () =>
      Number(/\((\d+) selected/.exec((await bench.cursor.textContent()) ?? '')?.[1]);
    const sizes = [0];
    while (sizes.at(-1)! < 60) {
      await page.keyboard.press('Shift+Alt+ArrowRight');
      await expect.poll(selected, wait).toBeGreaterThan(sizes.at(-1)!);
      sizes.push(await selected());
    }
    // The number, the quantity, the line, the block.
    expect(sizes.slice(0, 3)).toEqual([0, '812'.length, '812 W/m2'.length]);
    expect(sizes.length).toBeGreaterThanOrEqual(5);
    await page.keyboard.press('Escape');
  });

  it('folds blocks and opens them again', async () => {
    const folded = bench.page.locator('.codicon-folding-collapsed');
    await bench.run('Fold All');
    await expect.poll(() => folded.count(), wait).toBeGreaterThan(3);
    await shot('folded');
    await bench.run('Unfold All');
    await expect.poll(() => folded.count(), wait).toBe(0);
  });

  it('marks every use of a name at the cursor', async () => {
    await bench.goTo(lineOf(campaign, 'sweep 1.03 at') + 4, 16);
    const marked = bench.page.locator('.wordHighlight, .wordHighlightStrong, .wordHighlightText');
    await expect.poll(() => marked.count(), wait).toBeGreaterThan(2);
  });

  it('tells an address from a number', async () => {
    const { page } = bench;
    await bench.goTo(lineOf(campaign, 'sweep 1.03 at'), 8);
    await bench.run('Developer: Inspect Editor Tokens and Scopes');
    await expect
      .poll(() => page.locator('.token-inspect-widget').textContent(), wait)
      .toContain('deviceAddress');
    await page.keyboard.press('Escape');
    await page.locator('.token-inspect-widget').waitFor({ state: 'hidden' });
  });
});

describe('changing a text', () => {
  const row = (text: RegExp) => bench.page.locator('.view-line', { hasText: text }).count();

  it('lays out what is selected and leaves the rest', async () => {
    const { page } = bench;
    await bench.goTo(lineOf(campaign, 'tracer T9') + 1);
    await page.keyboard.press('Shift+End');
    await bench.run('Format Selection');
    await expect.poll(() => row(/^\s{2}voltage\s±/), wait).toBe(1);
    expect(await row(/^\s{4}current\s±/)).toBe(1);
  });

  it('fades a name that nothing uses, and takes its block away', async () => {
    const faded = bench.page.locator('.squiggly-inline-unnecessary');
    await bench.goTo(lineOf(campaign, 'tracer T9'), 8);
    await expect.poll(() => faded.allTextContents(), wait).toEqual(['T9']);
    await shot('faded');
    await bench.askForMend('Remove the block');
    await bench.page.keyboard.press('Enter');
    await expect.poll(() => row(/T9/), wait).toBe(0);
    await bench.run('File: Revert File');
  });
});

describe('settling in', () => {
  it('is led by a walkthrough', async () => {
    const { page } = bench;
    await bench.run('Welcome: Open Walkthrough...');
    await page.locator('.quick-input-list .monaco-list-row', { hasText: 'Start with Sweepbook' }).click();
    const steps = page.locator('.gettingStartedContainer .getting-started-step');
    await expect
      .poll(async () => (await steps.allTextContents()).join('\n'), wait)
      .toMatch(/Look at the demo[^]*Follow a fault to its end/);
    await shot('walkthrough');
    await bench.run('View: Close Editor');
  });

  it('begins a campaign that waits to be filled in', async () => {
    const { page } = bench;
    await bench.run('Sweepbook: New Campaign');
    await page.locator('.quick-input-title', { hasText: 'New Campaign' }).waitFor();
    await page.keyboard.type('North roof 2026');
    await page.keyboard.press('Enter');
    await page.locator('.view-line', { hasText: /campaign\snorth-roof-2026/i }).waitFor();
    await shot('new-campaign');
    await page.keyboard.press('Escape');
    await bench.run('View: Revert and Close Editor');
  });

  it('copies the demo and opens it with its curves', async () => {
    await bench.run('Sweepbook: Open the Demo');
    const file = path.join(session.folder, 'harrow-fen/campaign.sweepbook');
    await expect.poll(() => existsSync(file), wait).toBe(true);
    // The panel, turned to a string before, shows the same one of the demo: there its case is closed.
    await bench.panel.locator('.verdict', { hasText: 'verified' }).first().waitFor();
    await shot('demo');
  });

  it('took this long to start (told, not judged)', async () => {
    await bench.run('Developer: Show Running Extensions');
    const row = bench.page.locator('.runtime-extensions-editor .monaco-list-row', { hasText: 'sweepbook' });
    const time = row.locator('.activation-time');
    await expect.poll(() => time.textContent(), wait).toMatch(/\d+\s*ms/);
    console.log(`Sweepbook in the editor: ${await time.textContent()}`);
  });
});
