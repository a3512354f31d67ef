/** Runs functions of a test in the extension host of a session, beside the extension. */
import { request } from 'node:http';
import path from 'node:path';
import { text } from 'node:stream/consumers';
import { createVSIX } from '@vscode/vsce';
import type * as vscode from 'vscode';
import { projectFolder } from './editorInstall.mjs';
import type * as measures from './probe/measures.js';

export type Host = typeof measures & { readonly vscode: typeof vscode };

export class Probe {
  readonly #socket: string;

  constructor(socket: string) {
    this.#socket = socket;
  }

  /** The function goes there as text: it sees its arguments and nothing else, and answers what JSON can carry. */
  async run<A, R>(task: (host: Host, argument: A) => R | Promise<R>, argument: A): Promise<R> {
    const body = JSON.stringify({ task: String(task), argument });
    const answer = JSON.parse(await this.#ask(body)) as { result: R; error?: string };
    if (answer.error !== undefined) throw new Error(`In the extension host: ${answer.error}`);
    return answer.result;
  }

  /** The host of a window takes a while to come up. */
  async ready(): Promise<void> {
    for (let time = 0; ; time++) {
      try {
        await this.run(() => true, undefined);
        return;
      } catch (error) {
        if (time === 120) throw error;
        await new Promise((resolve) => setTimeout(resolve, 500));
      }
    }
  }

  #ask(body: string): Promise<string> {
    return new Promise((resolve, reject) => {
      const asked = request({ socketPath: this.#socket, method: 'POST' }, (response) => {
        text(response).then(resolve, reject);
      });
      asked.once('error', reject);
      asked.end(body);
    });
  }
}

/** Writes the probe as a package into a folder. */
export async function packProbe(into: string): Promise<string> {
  const packagePath = path.join(into, 'probe.vsix');
  await createVSIX({
    cwd: path.join(projectFolder, 'tests/realEditor/probe'),
    packagePath,
    dependencies: false,
    allowMissingRepository: true,
    skipLicense: true,
  });
  return packagePath;
}
