import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { hostStrings } from '../../l10n/collect.mjs';
import { comparePanelType, curvesPanelType } from '../../src/editor/panelTypes.js';

const root = new URL('../../', import.meta.url);
const manifest = JSON.parse(readFileSync(new URL('package.json', root), 'utf8'));
const words: Record<string, string> = JSON.parse(readFileSync(new URL('package.nls.json', root), 'utf8'));
const editorSources = readdirSync(new URL('src/editor/', root), { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.ts'))
  .map((name) => readFileSync(new URL(`src/editor/${name}`, root), 'utf8'))
  .join('\n');

describe('what the extension says of itself', () => {
  const commands: string[] = manifest.contributes.commands.map(({ command }: { command: string }) => command);

  it('registers every command it contributes, and no other', () => {
    const registered = [...editorSources.matchAll(/registerCommand\('([^']+)'/g)].map(
      ([, command]) => command,
    );
    expect(registered.sort()).toEqual([...commands].sort());
  });

  it('names only commands and files that there are', () => {
    const { menus, keybindings, languages, grammars, walkthroughs } = manifest.contributes;
    const used = [...Object.values<{ command: string }[]>(menus).flat(), ...keybindings];
    for (const { command } of used) expect(commands).toContain(command);
    const files = [
      manifest.icon,
      languages[0].configuration,
      grammars[0].path,
      ...Object.values<string>(languages[0].icon),
      ...walkthroughs[0].steps.map(({ media }: { media: { markdown: string } }) => media.markdown),
    ];
    for (const file of files) expect(existsSync(new URL(file, root)), file).toBe(true);
  });

  it('describes each setting, and each is read', () => {
    const settings = Object.entries<{ markdownDescription?: string }>(
      manifest.contributes.configuration.properties,
    );
    for (const [name, { markdownDescription }] of settings) {
      expect(markdownDescription, name).toBeTruthy();
      expect(editorSources).toContain(`'${name.replace('sweepbook.', '')}'`);
    }
  });

  it('starts for its own language and its own panels alone', () => {
    expect(manifest.activationEvents).toEqual([
      `onWebviewPanel:${curvesPanelType}`,
      `onWebviewPanel:${comparePanelType}`,
    ]);
    expect(languagesOf(manifest)).toEqual(['sweepbook']);
  });
});

describe('in a folder that is not trusted', () => {
  const core = [
    'analysis',
    'bringIn',
    'campaign',
    'evaluation',
    'presentation',
    'report',
    'sweeps',
    'workspace',
  ];
  const sources = ['editor', 'webview', 'messages', ...core].flatMap((folder) => {
    const base = new URL(`src/${folder}/`, root);
    return readdirSync(base, { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.tsx?$/.test(name))
      .map((name) => [`${folder}/${name}`, readFileSync(new URL(name, base), 'utf8')] as const);
  });

  it('everything works, since nothing of it starts a program or asks the network', () => {
    expect(manifest.capabilities.untrustedWorkspaces).toEqual({ supported: true });
    const reaching =
      /child_process|from 'node:|worker_threads|createTerminal|\btasks\.|\bdebug\.|\bfetch\(|XMLHttpRequest|WebSocket|sendBeacon|importScripts/;
    expect(sources.length).toBeGreaterThan(100);
    expect(sources.filter(([, text]) => reaching.test(text)).map(([name]) => name)).toEqual([]);
  });

  it('on the desktop it starts threads of its own package, asks where a link leads, and nothing else of Node', () => {
    const files = [
      'src/desktop/extension.ts',
      'src/threads/node/nodeThreads.ts',
      'src/threads/node/analyst.ts',
    ];
    const imported = files.flatMap((name) =>
      [...readFileSync(new URL(name, root), 'utf8').matchAll(/import (.*) from '(node:.*)'/g)].map(
        ([, names, module]) => `${names} of ${module}`,
      ),
    );
    expect(new Set(imported)).toEqual(
      new Set([
        '{ existsSync } of node:fs',
        '{ realpath } of node:fs/promises',
        '{ availableParallelism } of node:os',
        '{ Worker } of node:worker_threads',
        '{ parentPort } of node:worker_threads',
      ]),
    );
  });

  it('no text of a file becomes HTML of the panel', () => {
    const raw = /innerHTML|outerHTML|insertAdjacentHTML|document\.write/;
    expect(sources.filter(([, text]) => raw.test(text)).map(([name]) => name)).toEqual([]);
    expect(editorSources).not.toMatch(/isTrusted = (?!false)|supportHtml = (?!false)/);
  });
});

describe('the text in the editor', () => {
  it('is changed by one command in one step; all else is offered to the editor as an edit that the user picks', () => {
    expect(editorSources.match(/\.edit\(/g)).toHaveLength(1);
    expect(editorSources).not.toMatch(/applyEdit|onWillSave|TextEditorEdit\b/);
  });
});

describe('what is to be translated', () => {
  /** Every text of the manifest that people read. */
  const read = new Set(['title', 'description', 'markdownDescription', 'enumDescriptions', 'contents']);
  function textsOf(value: unknown, key = ''): string[] {
    if (typeof value === 'string') return read.has(key) ? [value] : [];
    if (Array.isArray(value)) return value.flatMap((each) => textsOf(each, key));
    return Object.entries(value ?? {}).flatMap(([name, each]) => textsOf(each, name));
  }

  it('stands in package.nls.json and nowhere else, and nothing there is without use', () => {
    const { configuration, views } = manifest.contributes;
    // Names of the product and of languages are the same everywhere.
    const same = ['Sweepbook', ...configuration.properties['sweepbook.report.language'].enumDescriptions];
    const texts = [...textsOf(manifest), views.explorer[0].name].filter((text) => !same.includes(text));
    expect(texts.filter((text) => !/^%[\w.-]+%$/.test(text))).toEqual([]);
    expect(new Set(texts)).toEqual(new Set(Object.keys(words).map((key) => `%${key}%`)));
    expect(Object.values(words).every((text) => text.trim() !== '')).toBe(true);
  });

  it('is collected from the sources as `npm run generate` does', () => {
    const bundle = readFileSync(new URL('l10n/bundle.l10n.json', root), 'utf8');
    expect(bundle).toBe(`${JSON.stringify(hostStrings(), undefined, 2)}\n`);
  });
});

function languagesOf({ contributes }: typeof manifest): string[] {
  return contributes.languages.map(({ id }: { id: string }) => id);
}
