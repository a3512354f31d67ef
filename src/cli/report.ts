import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { campaignPage, pageCharts, pageModel } from '../presentation/pageHtml.js';
import { evaluateFiles, programVersion } from './evaluateFiles.js';
import { exitStatus, statusOf } from './exitStatus.js';
import type { Io } from './io.js';
import { writeWhole } from './writeWhole.js';

export interface ReportOptions {
  readonly out?: string;
  readonly root?: string;
}

export async function report(file: string, options: ReportOptions, io: Io): Promise<number> {
  const root = options.root === undefined ? undefined : path.resolve(io.workingFolder, options.root);
  const { evaluated } = await evaluateFiles([file], io.workingFolder, root);
  const only = evaluated[0];
  if (!only || evaluated.length > 1) {
    io.error(only ? `${file}: holds several campaigns; name one file\n` : `${file}: no such campaign file\n`);
    return exitStatus.notComputable;
  }
  const target = path.resolve(io.workingFolder, options.out ?? only.file.replace(/(\.sweepbook)?$/, '.html'));
  if ([...only.evaluation.files, ...only.evaluation.dataFiles].includes(target)) {
    io.error(`${target}: is a file of the campaign itself; name another for the page\n`);
    return exitStatus.usage;
  }
  const model = pageModel(only.evaluation, only.display, programVersion);
  const { drawCharts } = await import('./drawCharts.js');
  const page = campaignPage(model, await drawCharts(pageCharts(model)));
  try {
    await writeWhole(target, page);
  } catch (error) {
    io.error(`${target}: the page could not be written (${(error as Error).message})\n`);
    return exitStatus.notComputable;
  }
  io.out(`Page with the curves: ${target}\n  ${pathToFileURL(target).href}\n`);
  return statusOf([only.evaluation], false);
}
