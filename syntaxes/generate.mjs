/**
 * Writes syntaxes/language-reference.md and syntaxes/sweepbook.tmLanguage.json from the keyword table, and
 * syntaxes/export-tables.md from the tables of an export, and l10n/bundle.l10n.json from what the extension says (`npm run generate`).
 * A test fails when they are not as this would write them.
 */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { hostStrings } from '../l10n/collect.mjs';

const folder = fileURLToPath(new URL('.', import.meta.url));
const { outputFiles } = await build({
  stdin: {
    contents: `
      export { languageReference } from '../src/campaign/languageReference.js';
      export { tablesDocument } from '../src/export/tablesDocument.js';
      export { csvViews, parquetViews } from '../src/export/views.js';
      export { textMateGrammar } from '../src/campaign/textMateGrammar.js';`,
    resolveDir: folder,
  },
  bundle: true,
  write: false,
  format: 'esm',
  platform: 'neutral',
});
const code = Buffer.from(outputFiles[0].contents).toString('base64');
const { csvViews, languageReference, parquetViews, tablesDocument, textMateGrammar } = await import(
  `data:text/javascript;base64,${code}`
);
writeFileSync(`${folder}language-reference.md`, languageReference());
writeFileSync(`${folder}export-tables.md`, tablesDocument());
writeFileSync(`${folder}../examples/fleet/views-parquet.sql`, parquetViews());
writeFileSync(`${folder}../examples/fleet/views-csv.sql`, csvViews());
writeFileSync(`${folder}sweepbook.tmLanguage.json`, textMateGrammar());
writeFileSync(`${folder}../l10n/bundle.l10n.json`, `${JSON.stringify(hostStrings(), undefined, 2)}\n`);
