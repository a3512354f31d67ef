import { readdir } from 'node:fs/promises';
import path from 'node:path';
import { campaignId, exportSource, type ExportSource } from '../export/campaignRows.js';
import { exportTables, type RowWriter } from '../export/tables.js';
import { tablesDescription } from '../export/tablesDocument.js';
import { toCsv } from '../export/writeCsv.js';
import { toParquet } from '../export/writeParquet.js';
import { printable } from '../presentation/terminalText.js';
import { eachCampaign } from './eachCampaign.js';
import { programVersion } from './programVersion.js';
import { exitStatus } from './exitStatus.js';
import { findCampaigns } from './findCampaigns.js';
import { complain, type Io } from './io.js';
import { makeFolder } from './makeFolder.js';
import { readPlainFile } from './nodeFiles.js';
import { wordsOf, writeWhole } from './writeWhole.js';

export interface ExportOptions {
  readonly to: string;
  readonly format: 'csv' | 'parquet';
  readonly root?: string;
}

const writers: Readonly<Record<ExportOptions['format'], RowWriter>> = { csv: toCsv, parquet: toParquet };

/** In the folder of an export: what the tables hold, and that the folder is one. */
const descriptionName = 'tables.json';

/**
 * Writes the tables of each campaign into a folder: `FOLDER/<table>/<campaign>.<format>`. Status 0 when all was written, whatever
 * the verdicts.
 */
export async function exportCampaigns(
  files: readonly string[],
  options: ExportOptions,
  io: Io,
): Promise<number> {
  const folder = path.resolve(io.workingFolder, options.to);
  try {
    await makeFolder(folder);
  } catch (error) {
    complain(io, `${options.to}: could not be written (${wordsOf(error as NodeJS.ErrnoException)})`);
    return exitStatus.notComputable;
  }
  const refusal = await refusalOf(folder, options.format);
  if (refusal !== undefined) {
    complain(io, `${options.to}: ${refusal}`);
    return exitStatus.usage;
  }
  const found = await findCampaigns(files, io.workingFolder);
  for (const name of found.missing) complain(io, `${name}: no campaign file there (looked for *.sweepbook)`);
  const written = new Set<string>();
  try {
    const description = { ...tablesDescription(), format: options.format };
    await writeWhole(path.join(folder, descriptionName), `${JSON.stringify(description, null, 2)}\n`);
    for await (const { evaluation } of eachCampaign(found, io, options.root)) {
      const source = exportSource(evaluation, namesBeside(folder), programVersion);
      const name = `${fileNameOf(campaignId(source))}.${options.format}`;
      written.add(name);
      io.out(
        `${printable(campaignId(source))}: ${await writeCampaign(source, folder, name, options.format)}\n`,
      );
    }
  } catch (error) {
    complain(io, `${options.to}: could not be written (${(error as Error).message})`);
    return exitStatus.notComputable;
  }
  const left = await leftOver(folder, written);
  if (left.length > 0)
    complain(
      io,
      `${options.to}: also holds campaigns of earlier exports, which count with the rest: ${left.join(', ')}`,
    );
  return found.missing.length > 0 || written.size === 0 ? exitStatus.notComputable : exitStatus.pass;
}

/** Names of files as seen from beside the export: wherever the program is started, a campaign has one name and no two have the same. */
function namesBeside(folder: string): (file: string) => string {
  const parent = path.dirname(folder);
  return (file) => path.relative(parent, file).split(path.sep).join('/');
}

/** @returns what was written: `12 sweeps, 2412 points`. */
async function writeCampaign(
  source: ExportSource,
  folder: string,
  name: string,
  format: ExportOptions['format'],
): Promise<string> {
  const counts: string[] = [];
  for (const { table, write } of exportTables) {
    const { bytes, rows } = write(source, writers[format]);
    await writeWhole(path.join(folder, table.name, name), bytes);
    if (table.name === 'sweeps' || table.name === 'points')
      counts.push(`${rows} ${rows === 1 ? table.name.slice(0, -1) : table.name}`);
  }
  return counts.join(', ');
}

/** Why the folder must not be written to; an export goes into a new, an empty or a former one of the same format. */
async function refusalOf(folder: string, format: string): Promise<string | undefined> {
  const entries = await readdir(folder).catch(() => undefined);
  if (!entries) return 'is no folder that can be read';
  if (entries.length === 0) return undefined;
  const description = await descriptionIn(folder);
  if (description?.program !== 'sweepbook')
    return 'holds files that are no export of this program; name a new or an empty folder';
  if (description.format !== format)
    return `holds an export as ${String(description.format)}; name another folder for ${format}`;
  if (description.exportSchemaVersion !== tablesDescription().exportSchemaVersion)
    return 'holds an export with other columns; name another folder, or empty it';
  return undefined;
}

/** Far more than the description of all tables takes. */
const longestDescription = 1024 * 1024;

async function descriptionIn(folder: string): Promise<Partial<Record<string, unknown>> | undefined> {
  const content = await readPlainFile(path.join(folder, descriptionName), longestDescription);
  try {
    return content.ok
      ? (JSON.parse(new TextDecoder().decode(content.bytes)) as Partial<Record<string, unknown>>)
      : undefined;
  } catch {
    return undefined;
  }
}

/** A file name from the name of a campaign: readable, and different for different campaigns. */
function fileNameOf(id: string): string {
  const readable = id
    .replace(/\.sweepbook$/, '')
    .normalize('NFKD')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 80);
  return `${readable || 'campaign'}-${hashOf(id)}`;
}

/** FNV-1a, 32 bit, of the UTF-8 bytes; eight hexadecimal digits. */
function hashOf(text: string): string {
  let hash = 0x811c9dc5;
  for (const byte of new TextEncoder().encode(text)) hash = Math.imul(hash ^ byte, 0x01000193);
  return (hash >>> 0).toString(16).padStart(8, '0');
}

async function leftOver(folder: string, written: ReadonlySet<string>): Promise<string[]> {
  const names = await readdir(path.join(folder, 'campaigns')).catch(() => []);
  return names.filter((name) => !written.has(name)).sort();
}
