/** One window of VS Code with the packaged extension, on a folder of its own. */
import { existsSync, mkdtempSync, realpathSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { chromium } from 'playwright-core';
import { chromiumOptions } from './chromium.js';
import { needChromium, projectFolder } from './editorInstall.mjs';
import { startEditor, type EditorOptions } from './editorServer.mjs';
import { packProbe, Probe } from './probe.js';
import { Workbench } from './workbench.js';

export interface Session {
  readonly bench: Workbench;
  /** What the window has open. */
  readonly folder: string;
  /** Ends all of it and removes the folder. */
  stop(): Promise<void>;
}

export interface ProbedSession extends Session {
  readonly probe: Probe;
}

/** `fill` writes what the folder holds before the window opens it. */
export async function startSession(
  fill: (folder: string) => void,
  settings: Record<string, unknown> = {},
): Promise<Session> {
  return openWindow(fill, { settings });
}

/** A session whose extension host can be looked into. */
export async function startProbedSession(
  fill: (folder: string) => void,
  options: Pick<EditorOptions, 'settings' | 'asksForTrust'> = {},
): Promise<ProbedSession> {
  // Short: the path of a socket may have a hundred characters.
  const place = mkdtempSync(path.join(tmpdir(), 'sweepbook-probe-'));
  const socket = path.join(place, 'probe');
  const remove = (): void => rmSync(place, { recursive: true, force: true });
  try {
    const session = await openWindow(fill, {
      ...options,
      others: [await packProbe(place)],
      environment: { SWEEPBOOK_PROBE_SOCKET: socket },
    });
    const probe = new Probe(socket);
    await probe.ready();
    return { ...session, probe, stop: () => session.stop().finally(remove) };
  } catch (error) {
    remove();
    throw error;
  }
}

async function openWindow(
  fill: (folder: string) => void,
  options: Omit<EditorOptions, 'folder' | 'vsix'>,
): Promise<Session> {
  const vsix = path.join(projectFolder, 'dist/sweepbook.vsix');
  if (!existsSync(vsix)) throw new Error('There is no dist/sweepbook.vsix; "npm run package" makes it.');
  needChromium();
  const folder = realpathSync(mkdtempSync(path.join(tmpdir(), 'sweepbook-session-')));
  fill(folder);
  const server = await startEditor({ folder, vsix, ...options });
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
