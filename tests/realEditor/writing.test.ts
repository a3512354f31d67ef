/**
 * What helps while writing, in VS Code itself: completion, hints, fixes, renaming, references, formatting. The tests go on from
 * one another; what they change is undone or stands in files of their own.
 */
import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { projectFolder } from './editorInstall.mjs';
import { startSession, type Session } from './session.js';
import { letGoAfterFailures, type Workbench } from './workbench.js';

const wait = { timeout: 60_000, interval: 100 };

let session: Session;
let bench: Workbench;
let folder: string;

/** The demo's curve in a form that nothing recognises: its columns are called channels. */
function foreignTable(): string {
  const rows = readFileSync(path.join(projectFolder, 'examples/harrow-fen/sweeps/1.01.csv'), 'utf8')
    .trim()
    .split('\n')
    .filter((row) => /^[\d.]+,[\d.-]+$/.test(row.trim()))
    .map((row, index) => {
      const [voltage, current] = row.trim().split(',');
      return `${index + 1};${current!.replace('.', ',')};${voltage!.replace('.', ',')}`;
    });
  return `Record 17\nNo;Channel 1;Channel 2\n${rows.join('\n')}\n`;
}

const untidy = `# Kept where it stands.
include "harrow-fen/modules.sweepbook"
plane   p
   tilt 12 deg      # of the roof
   azimuth    174 deg
string  W1
 modules   18 x KF108M
 plane p
`;

function fill(into: string): void {
  cpSync(path.join(projectFolder, 'examples/harrow-fen'), path.join(into, 'harrow-fen'), { recursive: true });
  writeFileSync(path.join(into, 'untidy.sweepbook'), untidy);
  writeFileSync(path.join(into, 'channels.csv'), foreignTable());
  const sweep =
    'sweep W1 at 2026-05-14 11:22\n  irradiance  806 W/m2\n  temperature 43.2 degC cell\n  data        "channels.csv"\n';
  writeFileSync(
    path.join(into, 'foreign.sweepbook'),
    `include "harrow-fen/modules.sweepbook"\n\nstring W1\n  modules 18 x KF108M\n\n${sweep}`,
  );
}

beforeAll(async () => {
  session = await startSession(fill, { 'files.autoSave': 'off' });
  ({ bench, folder } = session);
});

letGoAfterFailures(() => bench);

afterAll(async () => {
  await bench?.page.screenshot({ path: 'screenshots/writing-last.png' });
  await session?.stop();
});

const inFolder = (name: string): string => readFileSync(path.join(folder, name), 'utf8');

/** Line (from 1) of the first line of a file that begins so. */
const lineOf = (file: string, start: string): number =>
  inFolder(file)
    .split('\n')
    .findIndex((line) => line.startsWith(start)) + 1;

const campaign = 'harrow-fen/campaign.sweepbook';
const array = 'harrow-fen/array.sweepbook';

const suggestions = () => bench.page.locator('.suggest-widget.visible .monaco-list-row').allTextContents();
const shot = (name: string) => bench.page.screenshot({ path: `screenshots/writing-${name}.png` });

/** What the editor of the active file holds, saved to disk. */
async function saved(file: string): Promise<string> {
  await bench.page.keyboard.press('Control+S');
  await bench.page.locator('.editor-group-container.active .tab.active:not(.dirty)').waitFor();
  return inFolder(file);
}

async function undoAll(): Promise<void> {
  await bench.run('File: Revert File');
  await bench.page.locator('.editor-group-container.active .tab.active:not(.dirty)').waitFor();
}

describe('while one types', () => {
  it('colours names, addresses and units by what they are', async () => {
    await bench.openFile(campaign);
    await bench.page.locator('.view-line', { hasText: 'sweep 1.01' }).first().waitFor();
    await bench.page.waitForTimeout(1500);
    await shot('tokens');
  });

  it('offers the columns, paths, units and positions that fit a value', async () => {
    const { page } = bench;
    const first = lineOf(campaign, 'sweep 1.03 at 2026-05-14 11:42');
    await bench.goTo(first + 1, 1);
    await page.keyboard.press('Home');
    await page.keyboard.press('Control+Enter');
    await page.keyboard.type('irradiance-after 818 ');
    await page.keyboard.press('Control+Space');
    await expect.poll(suggestions, wait).toContainEqual(expect.stringContaining('kW/m2'));
    await shot('units');
    await page.keyboard.press('Escape');
    await page.keyboard.press('Escape');
    await undoAll();
    await bench.goTo(first + 3, 16);
    await page.keyboard.press('Shift+End');
    await page.keyboard.type('sw');
    await page.keyboard.press('Control+Space');
    await expect.poll(suggestions, wait).toContainEqual(expect.stringContaining('sweeps/1.03-first.csv'));
    await shot('paths');
    await page.keyboard.press('Escape');
    await undoAll();
    await bench.goTo(first, 11);
    await page.keyboard.type('/1');
    await page.keyboard.press('Control+Space');
    await expect.poll(suggestions, wait).toContainEqual(expect.stringContaining('module 11 of 18'));
    await page.keyboard.press('Escape');
    await undoAll();
  });

  it('writes a whole block and leaves its numbers to be filled in', async () => {
    const { page } = bench;
    await bench.openFile('untidy.sweepbook');
    await page.keyboard.press('Control+End');
    await page.keyboard.type('trac');
    await page.keyboard.press('Control+Space');
    await page.locator('.suggest-widget.visible .monaco-list-row', { hasText: 'tracer …' }).click();
    await page.keyboard.type('T9');
    await page.keyboard.press('Tab');
    await page.keyboard.type('2026-01-12');
    await page.keyboard.press('Tab');
    await page.keyboard.type('0.5');
    await page.keyboard.press('Escape');
    await shot('block');
    const text = await saved('untidy.sweepbook');
    expect(text).toContain('tracer T9\n  calibrated 2026-01-12\n  voltage    ± 0.5 %\n  current    ±  %');
    writeFileSync(path.join(folder, 'untidy.sweepbook'), untidy);
    await expect.poll(() => page.locator('.view-line', { hasText: 'T9' }).count(), wait).toBe(0);
  });

  it('says what a property wants, and marks the piece that comes next', async () => {
    const { page } = bench;
    await page.keyboard.press('Control+End');
    await page.keyboard.type('  cable 48 ');
    const hints = page.locator('.parameter-hints-widget.visible');
    await hints.waitFor();
    await expect.poll(() => hints.locator('.parameter.active').textContent(), wait).toMatch(/^m /);
    await shot('hint');
    await page.keyboard.press('Escape');
    await page.keyboard.press('Escape');
    await undoAll();
  });
});

describe('a text as a whole', () => {
  it('is laid out in one step, and back in one step', async () => {
    const { page } = bench;
    await bench.openFile('untidy.sweepbook');
    await bench.run('Format Document');
    await page.locator('.editor-group-container.active .tab.active.dirty').waitFor();
    const formatted = await saved('untidy.sweepbook');
    expect(formatted).toBe(
      `# Kept where it stands.
include "harrow-fen/modules.sweepbook"
plane p
  tilt    12 deg    # of the roof
  azimuth 174 deg
string W1
  modules 18 x KF108M
  plane   p
`,
    );
    await shot('formatted');
    await page.keyboard.press('Control+Z');
    expect(await saved('untidy.sweepbook')).toBe(untidy);
  });

  it('is laid out as lines are ended', async () => {
    const { page } = bench;
    await page.keyboard.press('Control+Home');
    await bench.goTo(5, 40);
    await page.keyboard.press('Enter');
    await expect
      .poll(() => page.locator('.view-line', { hasText: /^\s*azimuth\s174\sdeg$/ }).count(), wait)
      .toBe(1);
    await undoAll();
  });
});

describe('names', () => {
  it('are found across files', async () => {
    const { page } = bench;
    await bench.openFile(array);
    await bench.goTo(lineOf(array, 'tracer T1'), 8);
    await bench.run('Go to References');
    const rows = page.locator('.reference-zone-widget .monaco-list-row');
    await expect
      .poll(async () => (await rows.allTextContents()).join('\n'), wait)
      .toContain('campaign.sweepbook');
    await page.waitForTimeout(500);
    await shot('references');
    await page.keyboard.press('Escape');
  });

  it('are changed across files', async () => {
    const { page } = bench;
    await bench.goTo(lineOf(array, 'tracer T1'), 8);
    await page.keyboard.press('F2');
    // Its box is in the page before it is shown, and what is typed too early goes into the text.
    const input = page.locator('.rename-box input:focus');
    await input.waitFor();
    await expect.poll(() => input.inputValue(), wait).toBe('T1');
    await input.fill('Tracer-A');
    await shot('rename');
    await page.keyboard.press('Enter');
    await expect
      .poll(() => page.locator('.view-line', { hasText: /tracer\sTracer-A/ }).count(), wait)
      .toBe(1);
    await bench.run('File: Save All Files');
    await expect.poll(() => inFolder(campaign).includes('with        Tracer-A, RC1'), wait).toBe(true);
    expect(inFolder(array)).toContain('tracer Tracer-A');
    expect(inFolder(campaign)).not.toMatch(/with +T1\b/);
  });

  it('of a run are not changed alone, and it says why', async () => {
    const { page } = bench;
    const run =
      inFolder(array)
        .split('\n')
        .findIndex((line) => / \.\. /.test(line) && line.startsWith('string')) + 1;
    expect(run).toBeGreaterThan(0);
    await bench.goTo(run, 10);
    await page.keyboard.press('F2');
    const message = page.locator('.monaco-editor-overlaymessage, .notification-list-item-message');
    await expect.poll(() => message.first().textContent(), wait).toContain('split the run');
    await shot('refused');
    await page.keyboard.press('Escape');
  });

  it('are found from anywhere', async () => {
    const { page } = bench;
    await page.keyboard.press('Control+P');
    await page.locator('.quick-input-widget input').first().fill('#KF108M');
    const rows = page.locator('.quick-input-list .monaco-list-row', { hasText: 'KF108M' });
    await rows.first().waitFor();
    await shot('symbols');
    await page.keyboard.press('Escape');
  });
});

describe('a quick fix', () => {
  it('adds the layout that a table needs, by looking at it', async () => {
    const { page } = bench;
    await bench.openFile('foreign.sweepbook');
    await bench.run('Problems: Focus on Problems View');
    const texts = async () => (await bench.problems.allTextContents()).join('\n');
    await expect.poll(texts, wait).toContain('No column of voltage');
    await bench.focusEditor();
    await bench.goTo(lineOf('foreign.sweepbook', '  data'), 18);
    await page.keyboard.press('Control+.');
    const offered = page.locator('.action-widget .monaco-list-row', { hasText: 'Add a layout' });
    await offered.first().waitFor();
    await shot('fix');
    await offered.first().click();
    await expect.poll(texts, wait).not.toContain('No column of voltage');
    const text = await saved('foreign.sweepbook');
    expect(text).toContain(
      'layout channels\n  delimiter semicolon\n  decimal   comma\n  voltage   "Channel 2" V\n  current   "Channel 1" A\n',
    );
    expect(text).toContain('  layout      channels');
    await shot('fixed');
  });
});
