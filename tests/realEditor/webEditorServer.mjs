// @ts-check
/** Serves the editor that runs in the browser alone, on this machine only, with the built extension in it. */
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import path from 'node:path';
import { freePort, untilAnswers } from './editorServer.mjs';
import { installedWebEditor, projectFolder } from './editorInstall.mjs';

/**
 * @param {{ folder: string }} options What the window opens: served as files of the web, as a remote repository is.
 * @returns {Promise<import('./editorServer.mjs').EditorServer>}
 */
export async function startWebEditor({ folder }) {
  if (!existsSync(path.join(projectFolder, 'dist/extension.web.js')))
    throw new Error('There is no dist/extension.web.js; "npm run build" makes it.');
  const { server, builds, commit } = installedWebEditor();
  const port = await freePort();
  const child = spawn(
    process.execPath,
    [
      ...[server, '--browser', 'none', '--host', 'localhost', '--port', String(port)],
      ...['--testRunnerDataDir', builds, '--quality', 'stable', '--commit', commit],
      ...['--extensionDevelopmentPath', projectFolder, folder],
    ],
    { stdio: 'ignore' },
  );
  const ended = new Promise((resolve) => child.once('exit', resolve));
  const stop = async () => {
    child.kill();
    await ended;
  };
  const url = `http://localhost:${port}/`;
  try {
    await untilAnswers(url, () => child.exitCode !== null);
  } catch (error) {
    await stop();
    throw error;
  }
  return { url, stop };
}
