/** How the server starts and ends. */
import { spawnSync } from 'node:child_process';
import path from 'node:path';
import {
  DocumentFormattingRequest,
  ErrorCodes,
  ExitNotification,
  HoverRequest,
  ShutdownRequest,
} from 'vscode-languageserver-protocol/node';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildBesideDemo, Client } from './client.js';

let built: ReturnType<typeof buildBesideDemo>;

beforeAll(() => {
  built = buildBesideDemo();
}, 60_000);
afterAll(() => built.remove());

describe('the server', () => {
  it('says who it is and what it offers', async () => {
    const client = await Client.start(built);
    const { serverInfo, capabilities } = client.initialized;
    expect(serverInfo).toMatchObject({ name: 'sweepbook', version: expect.stringMatching(/^\d+\.\d+\.\d+/) });
    expect(capabilities).toMatchObject({
      textDocumentSync: { openClose: true, change: 2 },
      hoverProvider: true,
      renameProvider: { prepareProvider: true },
    });
    expect(await client.end()).toBe(0);
  });

  it('ends with 1 when it was not told to shut down before', async () => {
    const told = await Client.start(built);
    await told.connection.sendNotification(ExitNotification.type);
    expect(await told.ended).toBe(1);
    const left = await Client.start(built);
    left.hangUp();
    expect(await left.ended).toBe(1);
  });

  it('answers nothing more after shutdown, and ends while a campaign is computed', async () => {
    const client = await Client.start(built);
    const uri = await client.open(path.join(built.folder, 'campaign.sweepbook'));
    await client.connection.sendRequest(ShutdownRequest.type);
    const place = { textDocument: { uri }, position: { line: 0, character: 0 } };
    await expect(client.connection.sendRequest(HoverRequest.type, place)).rejects.toMatchObject({
      code: ErrorCodes.InvalidRequest,
    });
    await client.connection.sendNotification(ExitNotification.type);
    expect(await client.ended).toBe(0);
    expect(client.strayOutput()).toBe('');
  });

  it('is asked for a text that changes faster than it can compute, and answers of the last one', async () => {
    const client = await Client.start(built);
    const uri = await client.open(path.join(built.folder, 'campaign.sweepbook'));
    for (let count = 0; count < 60; count++) await client.replace(uri, 'client ', 'client  ');
    await client.replace(uri, 'purpose', 'purpos');
    const [problem] = await client.said(uri, (ids) => ids.includes('property/unknown'));
    expect(problem!.message).toContain('purpose');
    const params = { textDocument: { uri }, options: { tabSize: 2, insertSpaces: true } };
    const edits = await client.connection.sendRequest(DocumentFormattingRequest.type, params);
    expect(client.edited(uri, edits)).toContain('\n  client   "Fenside Growers"\n');
    expect(await client.end()).toBe(0);
    expect(client.strayOutput()).toBe('');
  });

  it('does not start with a wrong option', () => {
    const { status, stdout, stderr } = spawnSync(process.execPath, [built.program, 'serve', '--port'], {
      encoding: 'utf8',
    });
    expect([status, stdout]).toEqual([3, '']);
    expect(stderr).toContain('--port');
  });
});
