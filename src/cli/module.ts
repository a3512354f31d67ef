import path from 'node:path';
import { formatValue } from '../presentation/formatNumber.js';
import { alignedRows, type Column } from '../presentation/terminalText.js';
import { maximumPower, moduleBlock, technologyOf } from '../moduleTable/moduleBlock.js';
import { readModuleTable, type ModuleRow } from '../moduleTable/readModuleTable.js';
import { searchModules } from '../moduleTable/searchModules.js';
import { exitStatus } from './exitStatus.js';
import { NodeFiles } from './nodeFiles.js';
import { complain, type Io } from './io.js';

export interface ModuleSearchOptions {
  readonly write?: boolean;
}

const sizeLimit = 32 * 1024 * 1024;
const mostListed = 40;
const mostWritten = 20;

/** Lists what matches; one match, or `--write`, prints `module` blocks that can go into a campaign as they are. */
export async function moduleSearch(
  table: string,
  words: readonly string[],
  options: ModuleSearchOptions,
  io: Io,
): Promise<number> {
  const fail = (message: string): number => {
    complain(io, `${table}: ${message}`);
    return exitStatus.notComputable;
  };
  const file = path.resolve(io.workingFolder, table);
  const content = await new NodeFiles(path.parse(file).root).read(file, sizeLimit);
  if (!content.ok) return fail(unreadable[content.reason]);
  const result = readModuleTable(content.bytes);
  if (!result.ok) return fail(result.message);
  const { rows, skipped } = result.table;
  if (skipped.length > 0)
    complain(
      io,
      `${table}: ${skipped.length} rows have no name, the first on line ${skipped[0]!}; passed over.`,
    );
  const query = words.join(' ');
  const found = searchModules(result.table, query);
  if (found.length === 0)
    return fail(`none of ${rows.length} modules has every word of "${query}" in its name.`);
  if (found.length > 1 && !options.write) {
    io.out(listing(found));
    return exitStatus.pass;
  }
  if (found.length > mostWritten)
    return fail(`${found.length} modules match "${query}"; at most ${mostWritten} are written. Add words.`);
  const taken = new Set<string>();
  const blocks = found.map((row) => moduleBlock(row, { file: path.basename(file), line: row.line }, taken));
  io.out(blocks.join('\n'));
  return exitStatus.pass;
}

const unreadable = {
  missing: 'there is no such file.',
  'too-large': 'the file has more than 32 MB, which no module table has.',
  'not-a-file': 'this is not a file.',
  unreadable: 'the file cannot be read.',
} as const;

const columns: readonly Column[] = [
  { title: 'name', align: 'left' },
  { title: 'Pmax', align: 'right' },
  { title: 'technology', align: 'left' },
];

function listing(found: readonly ModuleRow[]): string {
  const rows = found
    .slice(0, mostListed)
    .map((row) => [
      row.name,
      formatValue(maximumPower(row), 'W'),
      technologyOf(row.technology) ?? row.technology ?? '-',
    ]);
  const lines = alignedRows(columns, rows).map((cells) => cells.join('  ').trimEnd());
  const rest = found.length - rows.length;
  const more = rest > 0 ? [`… and ${rest} more. Add words to narrow the search.`] : [];
  return [
    ...lines,
    ...more,
    '',
    `${found.length} modules. Add words until one is left, or --write.`,
    '',
  ].join('\n');
}
