// @ts-check
/** Runs the editor for the browser on this machine only, with the packaged extension and nothing else in it. */
import { execFileSync, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { installedEditor } from './editorInstall.mjs';

/**
 * @typedef {object} EditorServer
 * @property {string} url Opens the folder.
 * @property {() => Promise<void>} stop Ends it and removes its data.
 */

/** Nothing on the screen but the work, and nothing asked of the network. */
const quietSettings = {
  'chat.disableAIFeatures': true,
  'editor.minimap.enabled': false,
  'extensions.autoCheckUpdates': false,
  'extensions.ignoreRecommendations': true,
  'telemetry.telemetryLevel': 'off',
  'workbench.enableExperiments': false,
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'workbench.startupEditor': 'none',
};

/**
 * @typedef {object} EditorOptions
 * @property {string} folder
 * @property {string} vsix
 * @property {string[]} [others] Packages of further extensions.
 * @property {Record<string, unknown>} [settings]
 * @property {NodeJS.ProcessEnv} [environment] What extensions see besides.
 * @property {boolean} [asksForTrust] Folders are not trusted before somebody says so, as with a new window of a user.
 */

/**
 * @param {EditorOptions} options
 * @returns {Promise<EditorServer>}
 */
export async function startEditor({
  folder,
  vsix,
  others = [],
  settings = {},
  environment = {},
  asksForTrust = false,
}) {
  const { node, entry } = installedEditor();
  const data = mkdtempSync(path.join(tmpdir(), 'sweepbook-editor-'));
  const user = path.join(data, 'user');
  const folders = ['--user-data-dir', user, '--extensions-dir', path.join(data, 'extensions')];
  mkdirSync(path.join(user, 'User'), { recursive: true });
  writeFileSync(path.join(user, 'User/settings.json'), JSON.stringify({ ...quietSettings, ...settings }));
  const env = { ...process.env, ...environment, XDG_CONFIG_HOME: data, XDG_DATA_HOME: data };
  const config = ['--config', path.join(data, 'config.yaml')];
  const install = [vsix, ...others].flatMap((each) => ['--install-extension', each]);
  execFileSync(node, [entry, ...config, ...folders, ...install], { env, stdio: 'pipe' });

  const port = await freePort();
  const server = spawn(
    node,
    [
      ...[entry, ...config, ...folders],
      ...['--auth', 'none', '--bind-addr', `127.0.0.1:${port}`],
      ...['--disable-telemetry', '--disable-update-check'],
      ...(asksForTrust ? [] : ['--disable-workspace-trust']),
      ...['--disable-getting-started-override', folder],
    ],
    { env, stdio: 'ignore' },
  );
  const ended = new Promise((resolve) => server.once('exit', resolve));
  const stop = async () => {
    server.kill();
    await ended;
    rmSync(data, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  };
  const origin = `http://127.0.0.1:${port}`;
  try {
    await untilAnswers(`${origin}/healthz`, () => server.exitCode !== null);
  } catch (error) {
    await stop();
    throw error;
  }
  return { url: `${origin}/?folder=${encodeURIComponent(folder)}`, stop };
}

/** @returns {Promise<number>} */
export function freePort() {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() => resolve(typeof address === 'object' && address ? address.port : 0));
    });
  });
}

/**
 * @param {string} url
 * @param {() => boolean} hasEnded
 */
export async function untilAnswers(url, hasEnded) {
  const until = Date.now() + 60_000;
  while (Date.now() < until) {
    if (hasEnded()) throw new Error('The editor ended while it started.');
    const isUp = await fetch(url).then(
      (answer) => answer.ok,
      () => false,
    );
    if (isUp) return;
    await new Promise((resolve) => setTimeout(resolve, 250));
  }
  throw new Error('The editor did not answer within a minute.');
}
