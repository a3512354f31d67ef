// @ts-check
/**
 * Stands beside the extension under test in the same extension host and runs there what a test sends: a function and its argument,
 * over a socket in a folder that only this user may enter. Never part of what is shipped.
 */
import { createServer } from 'node:http';
import { text } from 'node:stream/consumers';
import * as vscode from 'vscode';
import * as measures from './measures.js';

/** @param {vscode.ExtensionContext} context */
export function activate(context) {
  const socket = process.env['SWEEPBOOK_PROBE_SOCKET'];
  if (!socket) return;
  const server = createServer((request, response) => {
    run(request).then(
      (result) => response.end(JSON.stringify({ result })),
      (error) => response.end(JSON.stringify({ error: String(error?.stack ?? error) })),
    );
  });
  server.listen(socket);
  context.subscriptions.push({ dispose: () => server.close() });
}

/** @param {import('node:http').IncomingMessage} request */
async function run(request) {
  const { task, argument } = JSON.parse(await text(request));
  // Indirect: the function sees nothing but its two arguments.
  return await (0, eval)(`(${task})`)({ vscode, ...measures }, argument);
}
