// @ts-check
/**
 * The strings that the extension says by itself, for translators: those given to `vscode.l10n.t`. Written to
 * l10n/bundle.l10n.json by `npm run generate`.
 */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

const sources = fileURLToPath(new URL('../src/editor/', import.meta.url));

/** The bundle in English: each string under itself, in the order of the alphabet. */
export function hostStrings() {
  const found = new Set();
  for (const name of readdirSync(sources, { recursive: true, encoding: 'utf8' })) {
    if (!name.endsWith('.ts')) continue;
    const text = readFileSync(path.join(sources, name), 'utf8');
    const file = ts.createSourceFile(name, text, ts.ScriptTarget.Latest);
    visit(file);
    /** @param {ts.Node} node */
    function visit(node) {
      if (ts.isCallExpression(node) && isTranslated(node.expression, file)) {
        const [said] = node.arguments;
        if (!said || !ts.isStringLiteral(said))
          throw new Error(`${name}: what is translated has to be written out: ${node.getText(file)}`);
        found.add(said.text);
      }
      ts.forEachChild(node, visit);
    }
  }
  return Object.fromEntries([...found].sort().map((said) => [said, said]));
}

/**
 * `vscode.l10n.t`, or `t` where it was taken out of it.
 * @param {ts.Expression} called
 * @param {ts.SourceFile} file
 */
function isTranslated(called, file) {
  return ['vscode.l10n.t', 't'].includes(called.getText(file));
}
