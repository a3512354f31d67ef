import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const root = new URL('../../', import.meta.url);
const manifest = JSON.parse(readFileSync(new URL('package.json', root), 'utf8'));
const activation = readFileSync(new URL('src/editor/activate.ts', root), 'utf8');

describe('what the extension says of itself', () => {
  const commands: string[] = manifest.contributes.commands.map(({ command }: { command: string }) => command);

  it('registers every command it contributes, and no other', () => {
    const registered = [...activation.matchAll(/registerCommand\('([^']+)'/g)].map(([, command]) => command);
    expect(registered.sort()).toEqual([...commands].sort());
  });

  it('names only commands and files that there are', () => {
    const { menus, keybindings, languages, grammars } = manifest.contributes;
    const used = [...Object.values<{ command: string }[]>(menus).flat(), ...keybindings];
    for (const { command } of used) expect(commands).toContain(command);
    const files = [
      manifest.icon,
      languages[0].configuration,
      grammars[0].path,
      ...Object.values<string>(languages[0].icon),
    ];
    for (const file of files) expect(existsSync(new URL(file, root)), file).toBe(true);
  });

  it('describes each setting, and each is read', () => {
    const sources = ['campaigns.ts', 'preview/curvesPanel.ts', 'providers/verdictHints.ts']
      .map((file) => readFileSync(new URL(`src/editor/${file}`, root), 'utf8'))
      .join('\n');
    const settings = Object.entries<{ markdownDescription?: string }>(
      manifest.contributes.configuration.properties,
    );
    for (const [name, { markdownDescription }] of settings) {
      expect(markdownDescription, name).toBeTruthy();
      expect(sources).toContain(`'${name.replace('sweepbook.', '')}'`);
    }
  });

  it('starts for its own language and its own panel alone', () => {
    expect(manifest.activationEvents).toEqual(['onWebviewPanel:sweepbook.curves']);
    expect(languagesOf(manifest)).toEqual(['sweepbook']);
  });
});

function languagesOf({ contributes }: typeof manifest): string[] {
  return contributes.languages.map(({ id }: { id: string }) => id);
}
