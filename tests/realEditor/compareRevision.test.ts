/**
 * Results compared with a revision in VS Code itself, in a repository made with the real git: the demo, which is invented, with a
 * coefficient, the irradiance of one sweep and the table of another changed since, and one sweep taken away.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Repository } from '../cli/repository.js';
import { edited, harrowFen } from '../difference/campaigns.js';
import { startSession, type Session } from './session.js';
import { letGoAfterFailures, type Workbench } from './workbench.js';

const wait = { timeout: 30_000, interval: 100 };

/** A tenth less current at every voltage. */
const lessCurrent = (table: string): string =>
  table.replace(/^([\d.]+),([\d.]+)/gm, (_, voltage: string, current: string) => {
    return `${voltage},${(0.9 * Number(current)).toFixed(3)}`;
  });

let session: Session;
let bench: Workbench;

function fill(folder: string): void {
  const repository = new Repository(harrowFen, folder);
  repository.git('tag', 'v1');
  const table = 'sweeps/1.02.csv';
  let files = edited(harrowFen, 'modules.sweepbook', '-0.27 %/K', '-0.29 %/K');
  files = edited(files, 'campaign.sweepbook', 'irradiance  826 W/m2', 'irradiance  830 W/m2');
  files = edited(files, 'campaign.sweepbook', /^sweep 1\.04 [^]*?\n\n/m, '');
  repository.commit('Coefficient as on the label; 1.02 from the other log', {
    ...files,
    [table]: lessCurrent(files[table]!),
  });
}

beforeAll(async () => {
  session = await startSession(fill, {
    'files.autoSave': 'off',
    'editor.stickyScroll.enabled': false,
    'diffEditor.useInlineViewWhenSpaceIsLimited': false,
    'git.openRepositoryInParentFolders': 'never',
    'workbench.colorTheme': 'Light Modern',
  });
  bench = session.bench;
  await bench.openFile('campaign.sweepbook');
  await bench.run('View: Toggle Primary Side Bar Visibility');
});

letGoAfterFailures(() => bench);

afterAll(async () => {
  await bench?.page.screenshot({ path: 'screenshots/compare-last.png' });
  await session?.stop();
});

const shot = (name: string) => bench.page.screenshot({ path: `screenshots/compare-${name}.png` });
const offered = (text: string) =>
  bench.page.locator('.quick-input-list .monaco-list-row', { hasText: text }).first();
const texts = (selector: string) => bench.panel.locator(selector).allTextContents();

describe('a campaign compared with a revision', () => {
  it('asks for it: the last commit first, then branches, tags, and commits of the file', async () => {
    const { page } = bench;
    await bench.run('Sweepbook: Compare Results with a Revision');
    await offered('Coefficient as on the label').waitFor();
    const all = await page.locator('.quick-input-list .monaco-list-row').allTextContents();
    expect(all[0]).toContain('HEAD');
    for (const name of ['main', 'v1', 'First']) expect(all.join('\n')).toContain(name);
    await shot('question');
    await page.keyboard.type('v1');
    await offered('v1').click();
  });

  it('says what changed and by what', async () => {
    await expect
      .poll(() => texts('.difference section[aria-label=Why] li'), wait)
      .toEqual(
        expect.arrayContaining([
          expect.stringMatching(
            /^beta of module KF108M from -0.27 %\/K to -0.29 %\/K moved Pmax of 22 sweeps/,
          ),
          expect.stringMatching(/^table sweeps\/1.02.csv .* turned 1 verdict \(1.02 pass to fail\)/),
          expect.stringMatching(/^irradiance of sweep 1.06 at .* from 826 W\/m2 to 830 W\/m2 moved/),
        ]),
      );
    expect(await bench.panel.locator('.against').textContent()).toMatch(
      /^Compared with v1 \([0-9a-f]{7}, \d{4}-\d\d-\d\d\)$/,
    );
    const first = bench.panel.locator('.compared tbody tr').first();
    expect(await first.textContent()).toMatch(/1\.02.*pass.*turned to.*fail/);
    // One curve of each state, and that of the nameplate.
    await expect.poll(() => bench.panel.locator('.overlay svg.marks').count(), wait).toBe(2);
    await shot('light-modern');
  });

  it('shows a sweep in the text diff, with values on both sides and no problems of the older text', async () => {
    const { page } = bench;
    await bench.panel.locator('.compared tbody tr', { hasText: '1.06' }).click();
    await bench.panel.locator('#compared', { hasText: '1.06' }).waitFor();
    await bench.panel.locator('.compared-sweep .when .link').click();
    const side = (name: 'original' | 'modified') =>
      page.locator(`.monaco-diff-editor .editor.${name} .view-lines`, { hasText: /pass,\sPmax/ });
    for (const name of ['original', 'modified'] as const)
      await expect.poll(() => side(name).count(), wait).toBe(1);
    await page.locator('.editor.original .view-lines').getByText('826', { exact: true }).hover();
    await expect.poll(() => bench.hover.first().textContent(), wait).toContain('826 W/m2 (irradiance)');
    await shot('text-diff');
    await page.keyboard.press('Control+Shift+M');
    await page.locator('.markers-panel', { hasText: 'No problems' }).waitFor();
    await page.keyboard.press('Control+Shift+M');
  });

  it('goes to what was taken away on the side that has it', async () => {
    const removed = bench.panel.locator('.changes li', { hasText: 'sweep 1.04 at 2026-05-14 11:50 removed' });
    await removed.locator('.link').click();
    const original = bench.page.locator('.monaco-diff-editor .editor.original .view-lines');
    await expect.poll(() => original.textContent(), wait).toMatch(/sweep\s1\.04/);
  });

  it('is computed anew when a file of the campaign is edited', async () => {
    await bench.openFile('modules.sweepbook');
    const line = await bench.lineOf('beta   -0.29');
    await bench.goTo(line, 1);
    await bench.page.keyboard.press('Shift+End');
    await bench.page.keyboard.type('  beta   -0.27 %/K');
    const causes = () => texts('.difference section[aria-label=Why] li');
    await expect.poll(causes, wait).not.toContainEqual(expect.stringContaining('beta of module'));
    expect(await causes()).toContainEqual(expect.stringContaining('table sweeps/1.02.csv'));
  });

  it('is the same again after the window was loaded anew', async () => {
    const { page, panel } = bench;
    await panel.locator('.compared tbody tr', { hasText: '1.06' }).click();
    await panel.locator('#compared', { hasText: '1.06' }).waitFor();
    const said = await texts('.difference section[aria-label=Why] li');
    const against = await panel.locator('.against').textContent();
    await bench.run('File: Save All');
    // In the browser the editor writes down such state every five seconds, when it is idle.
    await page.waitForTimeout(12_000);
    await page.reload();
    await panel.locator('#compared', { hasText: '1.06' }).waitFor({ timeout: 90_000 });
    expect(await panel.locator('.against').textContent()).toBe(against);
    expect(await texts('.difference section[aria-label=Why] li')).toEqual(said);
    await page.locator('.tab', { hasText: /Against v1 / }).waitFor();
    await shot('after-reload');
  });

  it('tells a revision that there is not', async () => {
    await bench.panel.getByRole('button', { name: 'Other Revision' }).click();
    await bench.page.locator('.quick-input-box input').first().fill('--output=taken');
    await offered('as typed').click();
    await bench.page
      .locator('.notification-list-item', { hasText: 'There is no revision --output=taken.' })
      .waitFor();
    await bench.run('Notifications: Clear All Notifications');
  });

  it.each(['Dark Modern', 'Dark High Contrast', 'Light High Contrast'])(
    'can be read in %s',
    async (theme) => {
      await bench.setTheme(theme);
      await expect.poll(() => bench.panel.locator('.overlay svg.marks').count(), wait).toBe(2);
      await shot(theme.toLowerCase().replaceAll(' ', '-'));
    },
  );

  it('shows one problem for each merge conflict, and computes the rest', async () => {
    const { page } = bench;
    const conflict = [
      '<<<<<<< HEAD',
      '  irradiance  806 W/m2',
      '=======',
      '  irradiance  810 W/m2',
      '>>>>>>> other',
    ];
    const text = harrowFen['campaign.sweepbook']!.replace('  irradiance  806 W/m2', conflict.join('\n'));
    writeFileSync(path.join(session.folder, 'campaign.sweepbook'), text);
    await bench.openFile('campaign.sweepbook');
    await bench.run('Problems: Focus on Problems View');
    await expect
      .poll(() => bench.problems.allTextContents(), wait)
      .toContainEqual(expect.stringMatching(/conflict/i));
    const rows = await bench.problems.allTextContents();
    expect(rows.filter((row) => /conflict/i.test(row))).toHaveLength(1);
    await expect
      .poll(() => page.locator('.view-lines', { hasText: /pass,\sPmax/ }).count(), wait)
      .toBeGreaterThan(0);
    await shot('conflict');
  });

  it('says so where the editor has no repository open', async () => {
    mkdirSync(path.join(session.folder, '.vscode'));
    writeFileSync(path.join(session.folder, '.vscode/settings.json'), '{ "git.enabled": false }');
    // The branch goes from the status bar as the repository is closed.
    await bench.page.locator('.statusbar-item', { hasText: 'main' }).waitFor({ state: 'detached' });
    await bench.run('Sweepbook: Compare Results with a Revision');
    await bench.page
      .locator('.notification-list-item', { hasText: 'is in no Git repository that the editor has open' })
      .waitFor();
  });

  it('says so in the panel that a window opened anew brings back', async () => {
    await bench.page.reload();
    const said = bench.panel.locator('p.nothing', {
      hasText: "The editor's own Git extension is not at hand",
    });
    await said.waitFor({ timeout: 90_000 });
    await shot('no-git-after-reload');
  });
});
