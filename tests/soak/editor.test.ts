/**
 * Opens, edits and closes campaigns many times in one extension host and holds what its heap keeps against a bound. Every second
 * campaign was never open before, so that what is kept of each one that was ever opened shows as growth, too.
 * `SWEEPBOOK_ROUNDS` says how many times.
 */
import type { Tab } from 'vscode';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { startProbedSession, type ProbedSession } from '../realEditor/session.js';
import { rounds, writeCampaigns, wrongLine } from './campaigns.js';
import { slopeOf } from './slope.js';

const step = rounds / 10;
/** Until all examples were open, all code has run and was compiled, and the editor's own lists are filled. */
const warmedUp = rounds / 5;
/** Bytes a round. */
const bound = 10_000;

let campaigns: readonly string[];
let session: ProbedSession;

beforeAll(async () => {
  session = await startProbedSession(
    (folder) => {
      campaigns = writeCampaigns(folder, rounds);
    },
    { settings: { 'sweepbook.delay': 0, 'files.autoSave': 'off', 'workbench.editor.enablePreview': false } },
  );
});

afterAll(async () => {
  await session?.bench.page.screenshot({ path: 'screenshots/soak-last.png' });
  await session?.stop();
});

/**
 * One round: open, break, mend, save, close; the panel is opened in every tenth and closed in every twentieth. By commands and the
 * editor alone: what an extension opens by `openTextDocument`, the editor keeps for three minutes.
 */
const roundsOf = (first: number, count: number): Promise<number> =>
  session.probe.run(
    async ({ vscode, heldBytes }, { files, first, wrongLine }) => {
      const { commands, window, workspace } = vscode;
      const until = async (is: () => boolean, what: string): Promise<void> => {
        for (let time = 0; !is(); time++) {
          if (time === 2_000) throw new Error(`Waited in vain: ${what}`);
          await new Promise((resolve) => setTimeout(resolve, 10));
        }
      };
      for (const [index, file] of files.entries()) {
        const round = first + index;
        const uri = vscode.Uri.file(file);
        const problems = (): number => vscode.languages.getDiagnostics(uri).length;
        const shown = (): boolean => window.activeTextEditor?.document.uri.toString() === uri.toString();
        // Answered once the campaign is computed.
        const computed = () => commands.executeCommand('vscode.executeDocumentSymbolProvider', uri);
        await commands.executeCommand('vscode.open', uri, { viewColumn: 1 });
        await until(shown, `${file} is shown`);
        const { document } = window.activeTextEditor!;
        const change = new vscode.WorkspaceEdit();
        change.insert(uri, new vscode.Position(0, 0), wrongLine);
        const mend = new vscode.WorkspaceEdit();
        mend.delete(uri, new vscode.Range(0, 0, 1, 0));
        await computed();
        if (round % 10 === 0) await commands.executeCommand('sweepbook.openCurves');
        const before = problems();
        await workspace.applyEdit(change);
        await computed();
        if (problems() <= before) throw new Error(`${file} was made wrong and nothing is said of it.`);
        await workspace.applyEdit(mend);
        await computed();
        if (problems() !== before) throw new Error(`${file} was mended and other problems are left.`);
        if (!(await document.save())) throw new Error(`${file} was not saved.`);
        const tabs = window.tabGroups.all.flatMap((group) => group.tabs);
        const closes = (tab: Tab): boolean => tab.input instanceof vscode.TabInputText || round % 20 === 19;
        await window.tabGroups.close(tabs.filter(closes));
        await until(() => !workspace.textDocuments.includes(document), `${file} is closed`);
      }
      return await heldBytes();
    },
    { files: campaigns.slice(first, first + count), first, wrongLine },
  );

it(`keeps no more after ${rounds} rounds than after ${warmedUp}`, async () => {
  await session.probe.run(
    ({ vscode }) => vscode.commands.executeCommand('sweepbook.strings.focus'),
    undefined,
  );
  const held: { rounds: number; bytes: number }[] = [];
  const start = performance.now();
  for (let first = 0; first < rounds; first += step) {
    held.push({ rounds: first + step, bytes: await roundsOf(first, step) });
    const { rounds: done, bytes } = held.at(-1)!;
    console.log(
      `${done} rounds, ${((performance.now() - start) / 1000).toFixed(0)} s: ${(bytes / 1e6).toFixed(2)} MB held`,
    );
  }
  const growth = slopeOf(
    held.filter(({ rounds }) => rounds >= warmedUp).map(({ rounds, bytes }) => [rounds, bytes]),
  );
  console.log(`${growth.toFixed(0)} bytes a round`);
  expect(growth).toBeLessThan(bound);
});
