/**
 * Campaigns in which each text of the user's own choice tries to do something, in the editor itself: everything is shown, nothing of it
 * runs, leads elsewhere or carries a command, and the extension host lives on.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CodeLens, DocumentLink, Hover, InlayHint, MarkdownString } from 'vscode';
import { contentSecurityPolicy } from '../../src/editor/preview/panelHtml.js';
import { everyField } from '../hostile/everyField.js';
import { payloads } from '../hostile/payloads.js';
import { refusals, refusedDirectives } from './panelPolicy.js';
import { startProbedSession, type ProbedSession } from './session.js';
import { letGoAfterFailures } from './workbench.js';

const wait = { timeout: 30_000, interval: 150 };
const names = Object.keys(payloads);
const roots = new Map<string, string>();

let session: ProbedSession;
const dialogs: string[] = [];
const asked: string[] = [];
const refused: string[] = [];

beforeAll(async () => {
  session = await startProbedSession(
    (folder) => {
      for (const [index, name] of names.entries()) {
        const place = path.join(folder, String(index));
        mkdirSync(place);
        const { files, root } = everyField(payloads[name]!);
        for (const [file, content] of Object.entries(files)) writeFileSync(path.join(place, file), content);
        // Half of a pair of code units cannot be written: the disk has a mark of replacement in its place.
        roots.set(name, path.join(place, root.replace(/\p{Cs}/gu, '\ufffd')));
      }
    },
    { settings: { 'files.autoSave': 'off' } },
  );
  const { page } = session.bench;
  page.on('dialog', (dialog) => {
    dialogs.push(dialog.message());
    void dialog.dismiss();
  });
  page.on('request', (request) => {
    if (/evil/.test(new URL(request.url()).hostname)) asked.push(request.url());
  });
  page.on('console', (message) => {
    if (/Content Security Policy/.test(message.text())) refused.push(message.text());
  });
});

letGoAfterFailures(() => session.bench);

afterAll(async () => {
  await session?.bench.page.screenshot({ path: 'screenshots/hostile-last.png' });
  await session?.stop();
});

/** Opens a campaign beside its panel, and tells everything that the providers hand to the editor. */
const given = (file: string) =>
  session.probe.run(async ({ vscode }, file) => {
    const { commands, window } = vscode;
    const uri = vscode.Uri.file(file);
    const { document } = await window.showTextDocument(uri, { viewColumn: 1 });
    await commands.executeCommand('sweepbook.openCurves');
    await commands.executeCommand('vscode.executeDocumentSymbolProvider', uri);
    const hovers: Hover[] = [];
    for (let line = 0; line < document.lineCount; line++) {
      const { text, firstNonWhitespaceCharacterIndex: first } = document.lineAt(line);
      if (text.startsWith('#')) continue;
      for (const character of new Set([first, text.indexOf('"') + 1, text.length >> 1])) {
        const at = new vscode.Position(line, character);
        hovers.push(...(await commands.executeCommand<Hover[]>('vscode.executeHoverProvider', uri, at)));
      }
    }
    const whole = new vscode.Range(0, 0, document.lineCount, 0);
    const lenses = await commands.executeCommand<CodeLens[]>('vscode.executeCodeLensProvider', uri, 500);
    const links = await commands.executeCommand<DocumentLink[]>('vscode.executeLinkProvider', uri, 500);
    const hints = await commands.executeCommand<InlayHint[]>('vscode.executeInlayHintProvider', uri, whole);
    const marks = hovers.flatMap(({ contents }) => contents) as MarkdownString[];
    return {
      isPlain: document.languageId !== 'sweepbook',
      hovers: marks.map(({ value, isTrusted, supportHtml }) => ({ value, isTrusted, supportHtml })),
      commands: lenses.map(({ command }) => command?.command),
      // An address that stands in any text the editor itself makes a link.
      schemes: links
        .filter(({ range }) => !document.getText(range).startsWith('http'))
        .map(({ target }) => target?.scheme),
      hints: hints.map(({ label }) => typeof label),
      diagnostics: vscode.languages.getDiagnostics(uri).map(({ code }) => typeof code),
    };
  }, file);

describe.each(names)('%s', (name) => {
  it('reaches the editor as text alone', async () => {
    const { isPlain, hovers, commands, schemes, hints, diagnostics } = await given(roots.get(name)!);
    expect(isPlain).toBe(false);
    expect(hovers.length).toBeGreaterThan(20);
    for (const { isTrusted, supportHtml } of hovers) {
      expect(isTrusted ?? false).toBe(false);
      expect(supportHtml ?? false).toBe(false);
    }
    expect(new Set(commands)).toEqual(new Set(['sweepbook.showInPanel']));
    expect(schemes.filter((scheme) => scheme !== 'file')).toEqual([]);
    expect(new Set([...hints, ...diagnostics])).toEqual(new Set(['string']));
  });

  it('is shown in every view of the panel, and does nothing there', async () => {
    const { panel } = session.bench;
    for (const view of ['Campaign', 'String', 'Sweep'] as const) {
      await session.bench.view(view);
      await panel.locator('main, #panel > *').first().waitFor();
      const strange = panel.locator(
        '#panel :is(script, img, iframe, object, embed, link, style, a[href], form:not(.vega-bindings))',
      );
      expect(await strange.evaluateAll((all) => all.map((each) => each.outerHTML))).toEqual([]);
      const handlers = await panel
        .locator('body *')
        .evaluateAll((all) =>
          all.flatMap((each) => each.getAttributeNames().filter((attribute) => attribute.startsWith('on'))),
        );
      expect(handlers).toEqual([]);
    }
    expect({ dialogs, asked, refused }).toEqual({ dialogs: [], asked: [], refused: [] });
  });
});

it('renders a note full of links and commands without one that leads anywhere', async () => {
  const { bench } = session;
  await given(roots.get('links, images and commands of Markdown')!);
  const line = await bench.lineOf('client ');
  await bench.goTo(line, 5);
  await bench.run('Show or Focus Hover');
  await expect.poll(() => bench.hover.first().textContent(), wait).toContain('client');
  await bench.goTo(await bench.lineOf('campaign c'), 3);
  await bench.run('Show or Focus Hover');
  await expect.poll(() => bench.hover.first().textContent(), wait).toMatch(/\S/);
  await bench.page.screenshot({ path: 'screenshots/hostile-hover.png' });
  const leads = await bench.page
    .locator('.monaco-resizable-hover :is(a, img, [data-href])')
    .evaluateAll((all) => all.map((each) => each.outerHTML));
  expect(leads.filter((each) => /command:|evil/.test(each))).toEqual([]);
});

it('has a policy in the panel that refuses whatever gets in, in the words of this project', async () => {
  const { directives, policies, ran } = await refusals(session.bench.panel);
  expect(ran).toEqual([]);
  expect(directives).toEqual(refusedDirectives);
  const written = contentSecurityPolicy({ cspSource: 'SOURCE', nonce: 'NONCE', script: '', styles: '' });
  const pattern = written
    .replace(/[.*+?^${}()|[\]\\]/g, '\\$&')
    .replaceAll('SOURCE', '[^;]+')
    .replace('NONCE', '[0-9a-f]{48}');
  expect(policies).toEqual([expect.stringMatching(new RegExp(`^${pattern}$`))]);
});

it('lives on, and says what is wrong even with a path that no disk can hold', async () => {
  const codes = await session.probe.run(async ({ vscode }, file) => {
    const uri = vscode.Uri.file(file);
    await vscode.window.showTextDocument(uri);
    const edit = new vscode.WorkspaceEdit();
    edit.insert(
      uri,
      new vscode.Position(0, 0),
      'sweep S1 at 2026-05-14 11:42\n  data "half \ud800 of a pair.csv"\n',
    );
    await vscode.workspace.applyEdit(edit);
    await vscode.commands.executeCommand('vscode.executeDocumentSymbolProvider', uri);
    const said = vscode.languages.getDiagnostics(uri).filter(({ range }) => range.start.line < 2);
    await vscode.commands.executeCommand('workbench.action.files.revert');
    return said.map(({ code }) => code);
  }, roots.get('a formula')!);
  expect(codes).toEqual(['data/missing']);
});
