// @ts-check
/** What the licences of the bundled packages ask for: their names, versions, and texts, beside the programs. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';

/**
 * Licences (SPDX) under which a package may be put into programs that are given away under the MIT licence. Another one stops the
 * build: somebody has to read it first.
 */
const allowed = new Set([
  'MIT',
  'ISC',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'Apache-2.0',
  '0BSD',
  'BlueOak-1.0.0',
  '(MIT AND Zlib)',
]);

/** The texts that SPDX publishes. */
const spdxTexts = createRequire(import.meta.url)('spdx-license-list/full');

/** Read, in this version: fonts that may be embedded and bundled with their notice; a package that states its licence in its file alone. */
const read = new Map([
  ['dejavu-fonts-ttf 2.37.3', 'Bitstream Vera and public domain'],
  ['png-js 2.0.0', 'MIT'],
]);

/**
 * @param {readonly import('esbuild').Metafile[]} metafiles of the bundles
 * @returns {string} one text for all of them
 * @throws {Error} naming every package whose licence nobody has read
 */
export function notices(metafiles) {
  const folders = new Set(
    metafiles.flatMap(({ inputs }) => Object.keys(inputs).flatMap((file) => folderOf(file) ?? [])),
  );
  const packages = [...folders].map(packageIn).sort((a, b) => (a.title < b.title ? -1 : 1));
  const unread = packages.filter(({ licence, title }) => !allowed.has(licence) && !read.has(title));
  if (unread.length > 0)
    throw new Error(
      `Licences to be read: ${unread.map(({ title, licence }) => `${title}: ${licence}`).join('; ')}`,
    );
  const parts = packages.map(
    ({ title, licence, text }) => `${'='.repeat(80)}\n${title}\nLicence: ${licence}\n\n${text}\n`,
  );
  return `The programs contain these packages, each under the licence that is printed below its name.\n\n${parts.join('\n')}`;
}

/**
 * `node_modules/a/node_modules/@b/c/lib/x.js` -> `node_modules/a/node_modules/@b/c`.
 * @param {string} file
 */
function folderOf(file) {
  return /^(?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+/.exec(file)?.[0];
}

/** @param {string} folder */
function packageIn(folder) {
  const { name, version, license, author } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  const title = `${name} ${version}`;
  const licence = read.get(title) ?? (typeof license === 'string' ? license : String(license?.type));
  const files = readdirSync(folder).filter((file) => /^(licen[cs]e|copying|notice)/i.test(file));
  const texts = files
    .map((file) => join(folder, file))
    .filter((file) => existsSync(file))
    .map((file) => readFileSync(file, 'utf8').trim());
  const by = typeof author === 'string' ? author : author?.name;
  // Without a file of its own: the published text, for whom the package names.
  const published = spdxTexts[licence]?.licenseText;
  if (texts.length === 0 && published === undefined)
    throw new Error(`${title}: no text of the licence ${licence} is at hand`);
  const text =
    texts.length > 0
      ? texts.join('\n\n')
      : `Copyright holders: ${by ?? `the authors of ${name}`}\n\n${published}`;
  return { title, licence, text };
}
