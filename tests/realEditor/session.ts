/** One window of VS Code with the packaged extension, on a folder of its own. */
import { existsSync, mkdtempSync, realpathSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { chromium } from 'playwright-core';
import { chromiumOptions } from './chromium.js';
import { needChromium, projectFolder } from './editorInstall.mjs';
import { startEditor } from './editorServer.mjs';
import { Workbench } from './workbench.js';

export interface Session {
  readonly bench: Workbench;
  /** What the window has open. */
  readonly folder: string;
  /** Ends all of it and removes the folder. */
  stop(): Promise<void>;
}

/** `fill` writes what the folder holds before the window opens it. */
export async function startSession(
  fill: (folder: string) => void,
  settings: Record<string, unknown> = {},
): Promise<Session> {
  const vsix = path.join(projectFolder, 'dist/sweepbook.vsix');
  if (!existsSync(vsix)) throw new Error('There is no dist/sweepbook.vsix; "npm run package" makes it.');
  needChromium();
  const folder = realpathSync(mkdtempSync(path.join(tmpdir(), 'sweepbook-session-')));
  fill(folder);
  const server = await startEditor({ folder, vsix, settings });
  const browser = await chromium.launch(chromiumOptions);
  const stop = async (): Promise<void> => {
    await browser.close();
    await server.stop();
    rmSync(folder, { recursive: true, force: true });
  };
  try {
    const context = await browser.newContext({ viewport: { width: 1500, height: 950 } });
    await context.grantPermissions(['clipboard-read', 'clipboard-write']);
    const page = await context.newPage();
    page.setDefaultTimeout(30_000);
    const bench = new Workbench(page);
    await bench.open(server.url);
    return { bench, folder, stop };
  } catch (error) {
    await stop();
    throw error;
  }
}
