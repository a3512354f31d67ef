/**
 * The extension in VS Code for the Web: no process beside the browser, files of a virtual workspace. The same code shows the
 * same diagnostics, hovers, verdicts and panel.
 */
import { cpSync, mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { chromium, type BrowserContext } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { generateCampaign } from '../bench/generate.js';
import { chromiumOptions } from './chromium.js';
import { needChromium, projectFolder } from './editorInstall.mjs';
import { refusals, refusedDirectives } from './panelPolicy.js';
import { startWebEditor } from './webEditorServer.mjs';
import { letGoAfterFailures, Workbench } from './workbench.js';

const folder = realpathSync(mkdtempSync(path.join(tmpdir(), 'sweepbook-web-')));
const profile = mkdtempSync(path.join(tmpdir(), 'sweepbook-profile-'));
const wait = { timeout: 60_000, interval: 150 };

let server: Awaited<ReturnType<typeof startWebEditor>>;
let browser: BrowserContext;
let bench: Workbench;

beforeAll(async () => {
  needChromium();
  cpSync(path.join(projectFolder, 'examples'), folder, { recursive: true });
  writeManySweeps(path.join(folder, 'many'));
  server = await startWebEditor({ folder });
  // The panel's frame is a site of its own with a service worker, which a browser takes for a third party.
  mkdirSync(path.join(profile, 'Default'));
  const preferences = { profile: { cookie_controls_mode: 0, block_third_party_cookies: false } };
  writeFileSync(path.join(profile, 'Default/Preferences'), JSON.stringify(preferences));
  browser = await chromium.launchPersistentContext(profile, {
    ...chromiumOptions,
    viewport: { width: 1500, height: 950 },
  });
  const page = await browser.newPage();
  page.setDefaultTimeout(60_000);
  bench = new Workbench(page);
  await bench.open(server.url);
});

/** More than are computed without a worker. */
function writeManySweeps(into: string): void {
  const generated = generateCampaign(200);
  mkdirSync(path.join(into, 'tables'), { recursive: true });
  const text = generated.text.replaceAll('data "', 'data "tables/');
  writeFileSync(path.join(into, 'campaign.sweepbook'), text);
  for (const [name, bytes] of generated.files) writeFileSync(path.join(into, 'tables', name), bytes);
}

letGoAfterFailures(() => bench);

afterAll(async () => {
  await bench?.page.screenshot({ path: 'screenshots/web-last.png' });
  await browser?.close();
  await server?.stop();
  for (const each of [folder, profile]) rmSync(each, { recursive: true, force: true, maxRetries: 5 });
});

describe('in the browser alone', () => {
  it('shows the mistakes of a campaign, with the rows of its tables', async () => {
    await bench.openFile('mistakes/campaign.sweepbook');
    await bench.run('Problems: Focus on Problems View');
    const texts = async () => (await bench.problems.allTextContents()).join('\n');
    await expect.poll(texts, wait).toContain('There is no module `KF108N`');
    expect(await texts()).toMatch(/G2-cut\.csv/);
    await bench.page.screenshot({ path: 'screenshots/web-problems.png' });
  });

  it('says on hover how a sweep came out', async () => {
    await bench.openFile('harrow-fen/campaign.sweepbook');
    await expect
      .poll(() => bench.page.locator('.view-lines').first().textContent(), wait)
      .toMatch(/conditional pass|pass/);
    const line = await bench.lineOf('sweep 1.03 at 2026-05-14 11:42');
    await bench.goTo(line, 3);
    await bench.run('Show or Focus Hover');
    await expect.poll(() => bench.hover.first().textContent(), wait).toMatch(/fail/);
    await bench.page.screenshot({ path: 'screenshots/web-hover.png' });
    await bench.page.keyboard.press('Escape');
  });

  it('says that there is no git here to compare with', async () => {
    await bench.run('Sweepbook: Compare Results with a Revision');
    await bench.page
      .locator('.notification-list-item', { hasText: 'Git extension is not at hand' })
      .waitFor();
    await bench.run('Notifications: Clear All Notifications');
  });

  it('draws the curves in the panel', async () => {
    await bench.page.getByRole('button', { name: /Open Curves Beside/ }).click();
    await bench.panel.locator('.curves svg.marks').nth(1).waitFor({ timeout: 60_000 });
    expect(await bench.panel.locator('.banner .verdict').textContent()).toBe('■fail');
    await bench.panel.getByRole('button', { name: 'String' }).click();
    await expect.poll(() => bench.panel.locator('.banner .verdict').textContent(), wait).toBe('★verified');
    await bench.page.screenshot({ path: 'screenshots/web-panel.png' });
  });

  it('refuses in the panel whatever gets in', async () => {
    const { directives, ran } = await refusals(bench.panel);
    expect(ran).toEqual([]);
    expect(directives).toEqual(refusedDirectives);
  });

  it('computes many sweeps in a worker of its own', async () => {
    // The worker that extensions run in, and those of the editor, are there already.
    const started: string[] = [];
    bench.page.on('worker', (worker) => started.push(worker.url()));
    await bench.openFile('many/campaign.sweepbook');
    await expect
      .poll(() => bench.page.locator('[id$="sweepbook.counts"]').textContent(), wait)
      .toContain('● 200');
    expect(started.filter((url) => url.startsWith('blob:'))).toHaveLength(1);
  });
});
