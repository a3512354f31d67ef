/** Entry on the desktop and on a remote host, which have threads for analysts, and a disk with links. */
import { realpath } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import type { ExtensionContext } from 'vscode';
import { activate as activateEditor } from '../editor/activate.js';
import { nodeThreads } from '../threads/node/nodeThreads.js';

/** One core is left to the editor; more threads than this would take memory rather than time. */
const atMost = Math.max(1, Math.min(availableParallelism() - 1, 4));
/** Milliseconds without work after which threads are ended. */
const restAfter = 30_000;

export function activate(context: ExtensionContext): void {
  const threads = nodeThreads(context.asAbsolutePath('dist/analyst.cjs'), { atMost, restAfter });
  activateEditor(context, { threads, followLinks: realpath });
}
