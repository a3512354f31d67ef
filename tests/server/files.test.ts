/** What is said of files: of closed ones, of broken ones, of ones that change, come, go, or lie outside. */
import { mkdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import {
  CompletionRequest,
  DefinitionRequest,
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  DidSaveTextDocumentNotification,
  FileChangeType,
  HoverRequest,
  type CompletionItem,
} from 'vscode-languageserver-protocol/node';
import { describe, expect, it } from 'vitest';
import { Client, uriOf } from './client.js';
import { serveBesideDemo } from './served.js';

const served = serveBesideDemo();

const inFolder = (...names: string[]): string => path.join(served.folder, ...names);
const has = (id: string) => (ids: readonly unknown[]) => ids.includes(id);
const hasNot = (id: string) => (ids: readonly unknown[]) => !ids.includes(id);
const nothing = (ids: readonly unknown[]): boolean => ids.length === 0;
const tellOf = (file: string, type: FileChangeType): Promise<void> =>
  served.client.connection.sendNotification(DidChangeWatchedFilesNotification.type, {
    changes: [{ uri: uriOf(file), type }],
  });

function write(name: string, text: string): string {
  const file = inFolder(name);
  mkdirSync(path.dirname(file), { recursive: true });
  writeFileSync(file, text);
  return file;
}

describe('diagnostics', () => {
  it('name the place, the id and what would be right, and an edit takes them back', async () => {
    const uri = await served.client.open(inFolder('one.sweepbook'), 'module M\n  Pmx 400 W\n');
    const said = await served.client.said(uri, has('property/unknown'));
    expect(said.find(({ code }) => code === 'property/unknown')).toMatchObject({
      source: 'sweepbook',
      severity: 1,
      range: { start: { line: 1, character: 2 }, end: { line: 1, character: 5 } },
      message: expect.stringContaining('Pmax'),
    });
    await served.client.replace(uri, 'Pmx', 'Pmax');
    await served.client.said(uri, hasNot('property/unknown'));
    await served.client.replace(uri, 'Pmax', 'Pmx');
    await served.client.said(uri, has('property/unknown'));
    await served.client.close(uri);
    await served.client.said(uri, nothing);
  });

  it('are kept apart from a text that is beyond reading, which hurts nobody', async () => {
    const broken = '\0\u{1f600}"\n\n  )(\n'.repeat(500) + '"'.repeat(5000);
    const uri = await served.client.open(inFolder('broken.sweepbook'), broken);
    expect((await served.client.said(uri, (ids) => ids.length > 0)).length).toBeGreaterThan(0);
    const beyond = { textDocument: { uri }, position: { line: 99_999, character: 99_999 } };
    expect(await served.client.connection.sendRequest(HoverRequest.type, beyond)).toBeNull();
    expect(await served.client.connection.sendRequest(CompletionRequest.type, beyond)).toBeInstanceOf(Array);
    await served.client.close(uri);
    await served.client.said(uri, nothing);
    const unknown = { textDocument: { uri }, position: { line: 0, character: 0 } };
    expect(await served.client.connection.sendRequest(HoverRequest.type, unknown)).toBeNull();
  });

  it('stand in an included file that nobody has open, and go with it', async () => {
    const part = write('parts/part.sweepbook', 'module P\n  Pmx 400 W\n');
    const root = write('parts/root.sweepbook', 'include "part.sweepbook"\n\ncampaign parts\n');
    const uri = await served.client.open(root);
    await served.client.said(uriOf(part), has('property/unknown'));
    await served.client.said(uri, hasNot('include/unreadable'));

    rmSync(part);
    await tellOf(part, FileChangeType.Deleted);
    await served.client.said(uri, has('include/unreadable'));
    await served.client.said(uriOf(part), nothing);

    write('parts/part.sweepbook', 'module P\n  Pmx 400 W\n');
    await tellOf(part, FileChangeType.Created);
    await served.client.said(uri, hasNot('include/unreadable'));
    await served.client.said(uriOf(part), has('property/unknown'));
    await served.client.close(uri);
    await served.client.said(uriOf(part), nothing);
  });

  it('of an included file that is open come from the campaign that includes it', async () => {
    const part = write('whole/part.sweepbook', 'sweep 7.01 at 2026-05-14 11:22\n  with T7\n');
    write('whole/root.sweepbook', 'campaign whole\n\ntracer T7\n\ninclude "part.sweepbook"\n');
    await tellOf(inFolder('whole/root.sweepbook'), FileChangeType.Created);
    const uri = await served.client.open(part);
    const place = served.client.at(uri, 'T7', 1);
    await served.client.said(uri, (ids) => ids.length > 0 && !ids.includes('name/unknown'));
    expect(await served.client.connection.sendRequest(DefinitionRequest.type, place)).toMatchObject({
      uri: uriOf(inFolder('whole/root.sweepbook')),
    });
    await served.client.close(uri);
  });

  it('follow a table that comes and goes', async () => {
    expect(served.client.registrations).toContainEqual(
      expect.objectContaining({
        method: 'workspace/didChangeWatchedFiles',
        registerOptions: { watchers: [{ globPattern: '**/*' }] },
      }),
    );
    const root = write(
      'late/late.sweepbook',
      'campaign late\n\nsweep A1 at 2026-05-14 11:22\n  data "t.csv"\n',
    );
    const uri = await served.client.open(root);
    await served.client.said(uri, has('data/missing'));
    const table = write('late/t.csv', 'V,I\n0,9\n10,8\n20,0\n');
    await tellOf(table, FileChangeType.Created);
    await served.client.said(uri, hasNot('data/missing'));
    rmSync(path.dirname(table), { recursive: true });
    await tellOf(path.dirname(table), FileChangeType.Deleted);
    await served.client.said(uri, has('data/missing'));
    await served.client.close(uri);
  });

  it('say failed sweeps where the settings ask for it', async () => {
    const uri = await served.client.open(inFolder('campaign.sweepbook'));
    // No string of the demo keeps this limit.
    await served.client.replace(uri, 'Pmax       -5 % ..', 'Pmax        5 % ..');
    const isVerdict = (id: unknown): boolean => String(id).startsWith('verdict/');
    await served.client.said(uri, (ids) => !ids.some(isVerdict));
    await served.client.connection.sendNotification(DidChangeConfigurationNotification.type, {
      settings: { sweepbook: { verdictsAsProblems: 'warning', delay: 'soon' } },
    });
    const said = await served.client.said(uri, (ids) => ids.some(isVerdict));
    expect(said.find(({ code }) => isVerdict(code))).toMatchObject({ severity: 2 });
    await served.client.close(uri);
  });
});

describe('the boundary of the workspace folder', () => {
  it('is not left by a path, and not by a link', async () => {
    const outside = path.join(path.dirname(served.folder), 'outside.csv');
    writeFileSync(outside, 'V,I\n0,9\n10,8\n20,0\n');
    symlinkSync(outside, inFolder('link.csv'));
    const text =
      'sweep A1\n  data "../outside.csv"\n\nsweep A2\n  data "link.csv"\n\ninclude "/etc/passwd"\n';
    const uri = await served.client.open(inFolder('leaves.sweepbook'), text);
    const said = await served.client.said(uri, has('data/outside'));
    const ids = said.map(({ code }) => code);
    expect(ids).toContain('data/unreadable');
    expect(ids).toContain('include/outside');
    expect(
      await served.client.connection.sendRequest(
        DefinitionRequest.type,
        served.client.at(uri, '../outside', 2),
      ),
    ).toBeNull();
    await served.client.close(uri);
  });
});

describe('a client that can do little', () => {
  it('gets plain text, and tables are read again when something is saved', async () => {
    const simple = await Client.start({ program: served.program, capabilities: {} });
    const uri = await simple.open(write('simple/a.sweepbook', 'campaign a\n\nsweep A1\n  data "t.csv"\n\n'));
    await simple.said(uri, has('data/missing'));
    write('simple/t.csv', 'V,I\n0,9\n10,8\n20,0\n');
    await simple.connection.sendNotification(DidSaveTextDocumentNotification.type, { textDocument: { uri } });
    await simple.said(uri, hasNot('data/missing'));
    const place = { textDocument: { uri }, position: { line: 4, character: 0 } };
    const items = (await simple.connection.sendRequest(CompletionRequest.type, place)) as CompletionItem[];
    expect(items.length).toBeGreaterThan(10);
    expect(items.every(({ insertTextFormat }) => insertTextFormat === 1)).toBe(true);
    expect(items.map(({ textEdit }) => textEdit!.newText).join('\n')).not.toMatch(/\$\{?\d/);
    const hover = await simple.connection.sendRequest(HoverRequest.type, simple.at(uri, 'sweep', 1));
    expect(hover).toMatchObject({ contents: { kind: 'plaintext' } });
    expect(simple.registrations).toEqual([]);
    expect(await simple.end()).toBe(0);
    expect(simple.strayOutput()).toBe('');
  });

  it('may show a text that was never saved', async () => {
    const uri = await served.client.openUnsaved('untitled:Untitled-1', 'module M\n  Pmx 400 W\n');
    await served.client.said(uri, has('property/unknown'));
    await served.client.close(uri);
    await served.client.said(uri, nothing);
  });
});
