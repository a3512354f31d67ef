import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const root = new URL('../../', import.meta.url);
const manifest = JSON.parse(readFileSync(new URL('package.json', root), 'utf8'));
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

  it('starts for its own language and its own panel alone', () => {
    expect(manifest.activationEvents).toEqual(['onWebviewPanel:sweepbook.curves']);
    expect(languagesOf(manifest)).toEqual(['sweepbook']);
  });
});

function languagesOf({ contributes }: typeof manifest): string[] {
  return contributes.languages.map(({ id }: { id: string }) => id);
}
