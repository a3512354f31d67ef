/**
 * A folder that nobody has said is trusted, and links that lead out of it, in the editor itself: campaigns are computed, no program is
 * started, nothing outside is read.
 */
import { cpSync, mkdirSync, mkdtempSync, realpathSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { projectFolder } from './editorInstall.mjs';
import { startProbedSession, type ProbedSession } from './session.js';
import { letGoAfterFailures } from './workbench.js';

const wait = { timeout: 30_000, interval: 150 };
const example = path.join(projectFolder, 'examples/harrow-fen');
const outside = realpathSync(mkdtempSync(path.join(tmpdir(), 'sweepbook-outside-')));

let session: ProbedSession;

beforeAll(async () => {
  cpSync(example, outside, { recursive: true });
  session = await startProbedSession(
    (folder) => {
      cpSync(example, path.join(folder, 'roof'), { recursive: true });
      // The same campaign three times: its tables by a link that leads out, by one that stays inside, and itself by a link.
      for (const [name, tables] of [
        ['out', path.join(outside, 'sweeps')],
        ['in', path.join(folder, 'roof/sweeps')],
      ] as const) {
        cpSync(example, path.join(folder, name), { recursive: true });
        rmSync(path.join(folder, name, 'sweeps'), { recursive: true });
        symlinkSync(tables, path.join(folder, name, 'sweeps'), 'dir');
      }
      mkdirSync(path.join(folder, 'empty'));
    },
    {
      asksForTrust: true,
      settings: { 'security.workspace.trust.startupPrompt': 'never', 'files.autoSave': 'off' },
    },
  );
});

letGoAfterFailures(() => session.bench);

afterAll(async () => {
  await session?.bench.page.screenshot({ path: 'screenshots/trust-last.png' });
  await session?.stop();
  rmSync(outside, { recursive: true, force: true });
});

/** Ids of what is said of a campaign once it is computed, each once. */
const said = (name: string): Promise<string[]> =>
  session.probe.run(
    async ({ vscode }, file) => {
      const uri = vscode.Uri.file(file);
      await vscode.window.showTextDocument(uri);
      await vscode.commands.executeCommand('vscode.executeDocumentSymbolProvider', uri);
      return [...new Set(vscode.languages.getDiagnostics(uri).map(({ code }) => String(code)))];
    },
    path.join(session.folder, name, 'campaign.sweepbook'),
  );

describe('in a folder that is not trusted', () => {
  beforeAll(async () => {
    // From here on each start of a program leaves a trace of where it was asked for.
    await session.probe.run(async () => {
      const { ChildProcess } = process.getBuiltinModule('node:child_process');
      const kept = globalThis as { started?: string[] };
      kept.started = [];
      const { spawn } = ChildProcess.prototype as unknown as {
        spawn: (this: unknown, ...all: unknown[]) => unknown;
      };
      Object.assign(ChildProcess.prototype, {
        spawn(this: unknown, ...all: unknown[]) {
          kept.started!.push(new Error('started').stack ?? '');
          return spawn.apply(this, all);
        },
      });
      await Promise.resolve();
    }, undefined);
  });

  it('the editor says so itself', async () => {
    expect(await session.probe.run(({ vscode }) => vscode.workspace.isTrusted, undefined)).toBe(false);
    await session.bench.page.locator('[id="status.workspaceTrust"]').first().waitFor();
  });

  it('a campaign is computed and its curves are shown', async () => {
    expect(await said('roof')).toEqual(expect.not.arrayContaining([expect.stringMatching(/^data\//)]));
    await session.bench.page.getByRole('button', { name: /Open Curves Beside/ }).click();
    await session.bench.panel.locator('.curves svg.marks').nth(1).waitFor();
    await session.bench.page.screenshot({ path: 'screenshots/trust-panel.png' });
  });

  it('results are not compared with a revision, and the editor says why', async () => {
    const { bench } = session;
    await bench.focusEditor();
    await bench.run('Sweepbook: Compare Results with a Revision');
    await bench.page
      .locator('.notification-list-item', { hasText: 'Git extension is not at hand' })
      .waitFor();
    await bench.page.screenshot({ path: 'screenshots/trust-compare.png' });
    await bench.run('Notifications: Clear All Notifications');
  });

  it('no program was started by all of this', async () => {
    const started = await session.probe.run(() => (globalThis as { started?: string[] }).started!, undefined);
    expect(started.filter((stack) => stack.includes('sweepbook.sweepbook'))).toEqual([]);
  });

  it('a trace is left when a program is started', async () => {
    const traces = await session.probe.run(async () => {
      const { execFile } = process.getBuiltinModule('node:child_process');
      await new Promise((resolve) => execFile(process.execPath, ['--version'], resolve));
      return (globalThis as { started?: string[] }).started!.length;
    }, undefined);
    expect(traces).toBeGreaterThan(0);
  });
});

describe.skipIf(process.platform === 'win32')('a linked folder of tables', () => {
  it('that leads out of the workspace folder is not read, as on the command line', async () => {
    await expect.poll(() => said('out'), wait).toContain('data/unreadable');
  });

  it('that stays inside is read', async () => {
    expect(await said('in')).toEqual(await said('roof'));
  });
});
