import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { ownCoefficients, type OwnCoefficients } from '../analysis/ownCoefficients.js';
import type { ModuleRecord } from '../campaign/model.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import { sweepsByDevice } from '../evaluation/byDevice.js';
import { coefficientCharts, coefficientPage } from '../presentation/coefficientPage.js';
import {
  coefficientResult,
  coefficientTable,
  type CoefficientReport,
} from '../presentation/coefficientTexts.js';
import { sweepTitle } from '../presentation/sweepTexts.js';
import { evaluateOne } from './evaluateOne.js';
import { programVersion } from './programVersion.js';
import { exitStatus } from './exitStatus.js';
import { complain, type Io } from './io.js';
import { writeWhole } from './writeWhole.js';

export interface CoefficientOptions {
  readonly format: 'text' | 'json';
  readonly out?: string;
  readonly root?: string;
}

/** Coefficients from the campaign's own sweeps. Status 0 when at least one was determined, 2 when none. */
export async function coefficients(
  file: string,
  name: string,
  options: CoefficientOptions,
  io: Io,
): Promise<number> {
  const only = await evaluateOne(file, io, options.root);
  const fail = (message: string): number => {
    complain(io, `${file}: ${message}`);
    return exitStatus.notComputable;
  };
  if (typeof only === 'string') return fail(only);
  const report = reportOf(only.evaluation, name);
  if (typeof report === 'string') return fail(report);
  if (options.out !== undefined) {
    const target = path.resolve(io.workingFolder, options.out);
    if ([...only.evaluation.files, ...only.evaluation.dataFiles].includes(target)) {
      complain(io, `${target}: is a file of the campaign itself; name another for the page`);
      return exitStatus.usage;
    }
    try {
      const { drawCharts } = await import('../report/drawCharts.js');
      const charts = await drawCharts(coefficientCharts(report));
      await writeWhole(target, coefficientPage(report, charts, programVersion));
    } catch (error) {
      return fail(`the page could not be written (${(error as Error).message})`);
    }
    io.error(`Page with the residuals: ${pathToFileURL(target).href}\n`);
  }
  io.out(
    options.format === 'json'
      ? JSON.stringify(coefficientResult(report, programVersion), null, 2) + '\n'
      : coefficientTable(report),
  );
  const determined = report.own.coefficients.some(({ value }) => value !== undefined);
  return determined ? exitStatus.pass : exitStatus.notComputable;
}

function reportOf(evaluation: Evaluation, name: string): CoefficientReport | string {
  const { campaign, sweeps } = evaluation;
  const type = campaign.modules.get(name)?.record;
  if (type) {
    const ofType = sweeps.filter(({ target }) => target.module === type);
    if (ofType.length === 0) return `no sweep measured a module ${name}`;
    return { module: name, own: determined(ofType, type) };
  }
  const groups = sweepsByDevice(sweeps, campaign).filter((group) => group[0]!.address === name);
  if (groups.length === 0) return `${name} is neither a module type nor the address of a sweep`;
  // The longest run without a replacement; the later of equals.
  const longest = groups.reduce((best, group) => (group.length >= best.length ? group : best));
  const module = longest[0]!.target.module;
  if (!module) return `the module type of ${name} is not known`;
  const own = determined(longest, module);
  const others = groups.filter((group) => group !== longest).flat();
  const leftOut = others.map((sweep) => ({
    sweep: sweepTitle(sweep),
    reason: 'a module was replaced in between',
  }));
  return { module: module.name.text, address: name, own: { ...own, leftOut: [...own.leftOut, ...leftOut] } };
}

function determined(sweeps: readonly EvaluatedSweep[], module: ModuleRecord): OwnCoefficients {
  return ownCoefficients(
    sweeps.map((sweep) => ({ title: sweepTitle(sweep), target: sweep.target, analysis: sweep.analysis })),
    module,
  );
}
