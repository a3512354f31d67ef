/** A folder of its own for each test, and `run` as a shell would call it. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { onTestFinished } from 'vitest';
import type { Io } from '../../src/cli/io.js';
import { run } from '../../src/cli/run.js';
import type { SingleDiode } from '../../src/physics/singleDiode.js';
import { csvOf, curveAt, moduleBlock, wideCriteria } from '../analysis/cecCampaign.js';

export function folderOf(files: Readonly<Record<string, string>> = {}): string {
  const folder = keptFolderOf(files);
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** One that whoever asks for it removes. */
export function keptFolderOf(files: Readonly<Record<string, string>>): string {
  const folder = mkdtempSync(path.join(tmpdir(), 'sweepbook-'));
  for (const [name, text] of Object.entries(files)) {
    const file = path.join(folder, name);
    mkdirSync(path.dirname(file), { recursive: true });
    writeFileSync(file, text);
  }
  return folder;
}

/** No terminal, and nobody who reads. */
export const silentIn = (workingFolder: string): Io => ({
  out: () => undefined,
  error: () => undefined,
  isTerminal: false,
  environment: {},
  workingFolder,
});

export interface Answer {
  readonly status: number;
  readonly out: string;
  readonly error: string;
}

export async function shell(
  workingFolder: string,
  args: readonly string[],
  more: Partial<Io> = {},
): Promise<Answer> {
  let out = '';
  let error = '';
  const status = await run(args, {
    ...silentIn(workingFolder),
    out: (text) => (out += text),
    error: (text) => (error += text),
    ...more,
  });
  return { status, out, error };
}

const at = { irradiance: 850, cellTemperature: 48 };

/** A campaign of two modules of the CEC table, `level` of their photocurrent; its table beside it. */
export function campaign({ level = 1, data = 's.csv', more = '' } = {}): Readonly<Record<string, string>> {
  const change = (model: SingleDiode): SingleDiode => ({
    ...model,
    photocurrent: model.photocurrent * level,
  });
  const text = [
    'campaign c "A campaign"',
    moduleBlock('row 4'),
    'string S\n  modules 2 x M',
    wideCriteria,
    `sweep S at 2026-05-14 11:42\n  irradiance 850 W/m2\n  temperature 48 degC cell\n  data "${data}"`,
    more,
  ].join('\n\n');
  return { 'c.sweepbook': text + '\n', [data]: csvOf(curveAt('row 4', at, { series: 2, change })) };
}

/** The files of a campaign in a folder of that name. */
export function inFolder(folder: string, files: Readonly<Record<string, string>>): Record<string, string> {
  return Object.fromEntries(Object.entries(files).map(([name, text]) => [`${folder}/${name}`, text]));
}
