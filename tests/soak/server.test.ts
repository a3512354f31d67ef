/** Opens, edits and closes campaigns many times in one language server, and holds what its heap keeps against a bound. */
import { mkdirSync, rmSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { HoverRequest, SemanticTokensRequest } from 'vscode-languageserver-protocol/node';
import { expect, it } from 'vitest';
import { rounds, writeCampaigns, wrongLine } from './campaigns.js';
import { slopeOf } from './slope.js';
import { buildBesideDemo, Client } from '../server/client.js';

const heapOnSignal = fileURLToPath(new URL('./heapOnSignal.mjs', import.meta.url));
/** Bytes a round. */
const bound = 5_000;

async function heldBytes(client: Client): Promise<number> {
  const before = client.complaints.length;
  process.kill(client.pid, 'SIGUSR2');
  await expect.poll(() => client.complaints.slice(before), { timeout: 20_000 }).toMatch(/held \d+\n/);
  return Number(/held (\d+)/.exec(client.complaints.slice(before))![1]);
}

async function round(client: Client, file: string): Promise<void> {
  const uri = await client.open(file);
  const place = { textDocument: { uri }, position: { line: 0, character: 2 } };
  await client.connection.sendRequest(HoverRequest.type, place);
  await client.connection.sendRequest(SemanticTokensRequest.type, { textDocument: { uri } });
  const start = { line: 0, character: 0 };
  await client.apply(uri, [{ range: { start, end: start }, newText: wrongLine }]);
  await client.said(uri, (ids) => ids.includes('time/malformed'));
  await client.apply(uri, [{ range: { start, end: { line: 1, character: 0 } }, newText: '' }]);
  await client.said(uri, (ids) => !ids.includes('time/malformed'));
  await client.close(uri);
}

it(`keeps no more of campaigns that were closed, ${rounds} times over`, async () => {
  const built = buildBesideDemo();
  const folder = path.join(path.dirname(built.folder), 'soak');
  mkdirSync(folder);
  const files = writeCampaigns(folder, rounds);
  const client = await Client.start({
    program: built.program,
    folder,
    settings: { delay: 0 },
    nodeOptions: ['--expose-gc', '--import', heapOnSignal],
  });
  const held: [rounds: number, bytes: number][] = [];
  for (const [index, file] of files.entries()) {
    await round(client, file);
    if ((index + 1) % (rounds / 10) === 0) held.push([index + 1, await heldBytes(client)]);
  }
  expect(await client.end()).toBe(0);
  built.remove();
  rmSync(folder, { recursive: true, force: true });
  console.log(held.map(([done, bytes]) => `${done}: ${(bytes / 1e6).toFixed(2)} MB`).join(', '));
  const growth = slopeOf(held.slice(1));
  console.log(`${growth.toFixed(0)} bytes a round`);
  expect(growth).toBeLessThan(bound);
}, 600_000);
