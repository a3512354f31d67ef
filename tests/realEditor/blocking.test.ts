/**
 * How long the extension host's event loop is kept from its turn while a large campaign opens and is typed in. Told, not judged, since
 * machines differ. `SWEEPBOOK_STRINGS` sets the size, `SWEEPBOOK_KEYSTROKES` how many digits are typed each time;
 * `SWEEPBOOK_PROFILES` names a folder for a CPU profile of each part.
 */
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { generateCampaign } from '../bench/generate.js';
import { startProbedSession, type ProbedSession } from './session.js';

const strings = Number(process.env['SWEEPBOOK_STRINGS'] ?? 2_000);
const profiles = process.env['SWEEPBOOK_PROFILES'];
const digits = Number(process.env['SWEEPBOOK_KEYSTROKES'] ?? 12);
/** Milliseconds that a user does not feel. */
const target = 30;

let session: ProbedSession;

beforeAll(async () => {
  const { text, files } = generateCampaign(strings);
  session = await startProbedSession((folder) => {
    writeFileSync(path.join(folder, 'campaign.sweepbook'), text);
    for (const [name, bytes] of files) writeFileSync(path.join(folder, name), bytes);
  });
});

afterAll(async () => {
  await session?.bench.page.screenshot({ path: 'screenshots/blocking-last.png' });
  await session?.stop();
});

const file = (): string => path.join(session.folder, 'campaign.sweepbook');

/** Tells the stretches of a piece of work, by this thread's own time: what others took of the processor is not the extension's. */
async function told(name: string, work: () => Promise<string>): Promise<void> {
  const { probe } = session;
  if (profiles) await probe.run(({ startProfile }) => startProfile(), undefined);
  await probe.run(({ watchLoop }) => watchLoop(), undefined);
  const took = await work();
  const spans = await probe.run(async ({ blockedSpans }) => {
    await new Promise((resolve) => setTimeout(resolve, 2_000));
    return blockedSpans();
  }, undefined);
  if (profiles) {
    const profile = await probe.run(({ stopProfile }) => stopProfile(), undefined);
    writeFileSync(path.join(profiles, `${name}.json`), JSON.stringify({ profile, spans }));
  }
  const longest = spans.map(({ cpu }) => Math.round(cpu)).sort((a, b) => b - a);
  const over = longest.filter((ms) => ms > target);
  console.log(
    `${strings} strings, ${name}: ${took}; ${over.length} stretches over ${target} ms` +
      `${over.length > 0 ? `: ${over.slice(0, 12).join(', ')}` : `, the longest ${longest[0] ?? 0}`}`,
  );
}

/** Digits of one irradiance, each once the one before is computed and shown. */
const keystrokes = (): Promise<string> =>
  session.probe.run(
    async ({ vscode }, { file, digits }) => {
      const times: number[] = [];
      const uri = vscode.Uri.file(file);
      const document = await vscode.workspace.openTextDocument(uri);
      const at =
        document.getText().indexOf('irradiance', document.getText().length >> 1) + 'irradiance 8'.length;
      const place = document.positionAt(at);
      const range = new vscode.Range(place, place.translate(0, 1));
      for (let time = 0; time < digits; time++) {
        const edit = new vscode.WorkspaceEdit();
        edit.replace(uri, range, String(time % 10));
        const start = performance.now();
        await vscode.workspace.applyEdit(edit);
        await vscode.commands.executeCommand('vscode.executeDocumentSymbolProvider', uri);
        times.push(performance.now() - start);
        await new Promise((resolve) => setTimeout(resolve, 200));
      }
      times.sort((a, b) => a - b);
      return `median ${Math.round(times[digits >> 1]!)} ms from key to answer, with the delay of 120 ms`;
    },
    { file: file(), digits },
  );

it('opens', () =>
  told('open', () =>
    session.probe.run(async ({ vscode }, file) => {
      const start = performance.now();
      const uri = vscode.Uri.file(file);
      await vscode.window.showTextDocument(uri);
      await vscode.commands.executeCommand('vscode.executeDocumentSymbolProvider', uri);
      return `${Math.round(performance.now() - start)} ms`;
    }, file()),
  ));

it('is typed in', async () => {
  await told('first keystrokes', keystrokes);
  await told('keystrokes', keystrokes);
});

it('is typed in beside its panel', async () => {
  await session.probe.run(({ vscode }) => vscode.commands.executeCommand('sweepbook.openCurves'), undefined);
  await session.bench.panel.locator('.curves svg.marks').first().waitFor();
  await told('keystrokes beside the panel', keystrokes);
  expect(await session.bench.panel.locator('.banner .verdict').textContent()).toMatch(/\w/);
});
