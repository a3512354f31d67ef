/** The ids of all problems, as the sources write them. */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import type { BlockKeyword } from '../../src/campaign/keywords.js';

const source = fileURLToPath(new URL('../../src', import.meta.url));

function texts(folder: string): string[] {
  return readdirSync(path.join(source, folder), { withFileTypes: true }).flatMap((entry) => {
    const inner = `${folder}/${entry.name}`;
    if (entry.isDirectory()) return texts(inner);
    return entry.name.endsWith('.ts') ? [readFileSync(path.join(source, inner), 'utf8')] : [];
  });
}

/** Ids that the sources put together from parts, and what they come to. */
const composed: Readonly<Record<string, readonly string[]>> = {
  'nameplate/${name}-positive': ['nameplate/beta-positive', 'nameplate/gamma-positive'],
  'nameplate/${name}-large': ['nameplate/beta-large', 'nameplate/gamma-large'],
  'nameplate/${name}-small': ['nameplate/beta-small', 'nameplate/gamma-small'],
  'data/${content.reason}': ['data/missing', 'data/too-large', 'data/not-a-file', 'data/unreadable'],
  'time/${doubt}': ['time/ambiguous', 'time/nonexistent'],
  'no-${role}-column': ['sweep/no-voltage-column', 'sweep/no-current-column'],
};

export function problemsFound(
  blocks: readonly BlockKeyword[],
  checks: readonly { readonly id: string }[],
): ReadonlySet<string> {
  const found = new Set(checks.map(({ id }) => id));
  const core = ['syntax', 'campaign', 'sweeps', 'checks', 'cases', 'evaluation'].flatMap(texts);
  const all = core
    .join('\n')
    .replace(/^import .*$/gm, '')
    .replace(/from '[^']*'/g, '');
  for (const [, id] of all.matchAll(/'([a-z]+\/[a-z][a-z0-9-]+)'/g)) found.add(id!);
  for (const [, id] of texts('sweeps')
    .join('\n')
    .matchAll(/(?:error|warning|information|fail)\(\s*(?:[a-z]+ \? )?'([a-z-]+)'/g))
    found.add(`sweep/${id!}`);
  for (const [, one, other] of all.matchAll(/\? '([a-z]+-[a-z]+)' : '([a-z]+-[a-z]+)'/g))
    for (const id of [one, other]) if (/header|column/.test(id!)) found.add(`sweep/${id!}`);
  for (const [, part] of all.matchAll(/[(:]\s*`((?:[a-z]+|\$\{[a-z.]+\})\/[^`]*\$\{[^`]*|no-\$\{[^`]*)`/g))
    for (const id of composed[part!] ?? []) found.add(id);
  for (const file of ['loadFiles', 'earlierCampaign']) {
    const area = file === 'loadFiles' ? 'include' : 'compare';
    const text = readFileSync(path.join(source, `evaluation/${file}.ts`), 'utf8');
    for (const [, id] of text.matchAll(/(?:report|wrong)\(\s*(?:[a-z]+,\s*)?'([a-z-]+)'/g))
      found.add(`${area}/${id!}`);
  }
  for (const { name, properties } of blocks) {
    if (properties.some(({ requiredFor }) => requiredFor)) found.add(`${name}/incomplete`);
    if (properties.some(({ estimatedForSilicon }) => estimatedForSilicon)) found.add(`${name}/estimated`);
  }
  return found;
}
