/** The uncertainty budget of one translated sweep: which inputs count, and how large each is. */
import type { ModuleRecord, ParameterName, SweepTarget } from '../campaign/model.js';
import { standardUncertainty } from '../campaign/quantity.js';
import type { ExtractedParameters } from '../physics/curveParameters.js';
import type { DeviceCoefficients } from '../physics/deviceCoefficients.js';
import {
  translationUncertainty,
  type InputUncertainties,
  type ResultUncertainty,
} from '../physics/uncertainty.js';
import { parameterNames, perParameter, unknownParameters, type Conditions } from '../physics/ivCurve.js';
import { referenceTemperature } from '../physics/constants.js';
import { siliconJunctionVoltage } from '../physics/junctionTemperature.js';
import { assumedTolerances as assumed } from './assumedTolerances.js';
import type { Interpolated, Partner } from './interpolatedSweep.js';
import { instrumentUncertainties, type InstrumentUncertainties } from './instrumentUncertainties.js';
import type { Correction, ProcedureCoefficients } from './moduleScience.js';
import type {
  BudgetKind,
  BudgetLine,
  Repeatability,
  RelativeUncertainties,
  SweepAnalysis,
  SweepConditions,
  TranslatedCurve,
} from './sweepAnalysis.js';
import { isThinFilm, translationResidual } from './translationResidual.js';
import { tolerancesOf } from './verdict.js';

export interface UncertaintyTask {
  readonly target: SweepTarget;
  readonly conditions: SweepConditions;
  readonly translated: TranslatedCurve;
  readonly extraction: ExtractedParameters;
  /** Of the curve that was translated, A. */
  readonly measuredIsc: number;
  /** Of the sweep as it was measured. */
  readonly measured: ExtractedParameters;
  readonly coefficients: DeviceCoefficients;
  readonly correction: Correction;
  readonly junction?: ProcedureCoefficients['junction'];
  /** Of procedure 3. */
  readonly interpolated?: (Interpolated & { readonly partner: Partner }) | undefined;
  /** Standard uncertainty of a cable resistance that was corrected, ohm. */
  readonly cableUncertainty?: number;
  readonly repeatability?: Repeatability;
}

const kindWords: Readonly<Record<Exclude<BudgetKind, 'repeatability'>, string>> = {
  voltage: 'Tracer voltage',
  current: 'Tracer current',
  irradiance: 'Irradiance',
  alignment: 'Alignment of the reference',
  spectrum: 'Spectrum at the reference',
  drift: 'Irradiance between its readings',
  rear: 'Rear of bifacial modules',
  temperature: 'Cell temperature',
  temperatureSpread: 'Cells against the place of the sensor',
  alpha: 'alpha of the nameplate',
  beta: 'beta of the nameplate',
  gamma: 'gamma of the nameplate',
  rs: 'Rs',
  kappa: 'kappa',
  b1: 'B1',
  b2: 'B2',
  vocAtStandard: 'Voc of the nameplate, as thermometer',
  junction: 'Voltage-temperature relation',
  noise: 'Noise of the points',
  procedure: 'Translation procedure',
  cable: 'Cable resistance',
};

/**
 * Nothing is known without the accuracies of voltage, current, irradiance and temperature: a budget that leaves one out
 * would promise too much. Temperatures are absolute, the others fractions.
 *
 * Procedure 3 is a temperature step by procedure 1 from the interpolated curve, and the budget is that of this step with
 * errors of irradiance and temperature taken as common to both curves, which is the worst case (see `Interpolated`); the
 * larger accuracy figures of the two sweeps count. The scatter of the interpolated points is in their noise. Where a
 * temperature came from Voc, it is not known.
 */
export function uncertaintyOf(task: UncertaintyTask): {
  uncertainty: RelativeUncertainties;
  budget: readonly BudgetLine[];
  coverage?: SweepAnalysis['coverage'];
} {
  const inputs = task.interpolated
    ? pairUncertainties(task, task.interpolated)
    : instrumentUncertainties({ ...task, parameters: task.measured.parameters });
  const { isc, voc, imp, vmp } = task.translated.parameters;
  if (!inputs || isc === undefined || imp === undefined || vmp === undefined) {
    return { uncertainty: unknownParameters, budget: [] };
  }
  const estimatedKappa = task.translated.estimates.some(({ symbol }) => symbol === 'kappa');
  const modules = task.coefficients.series * task.coefficients.parallel;
  const nameplate = task.target.module;
  const gamma = gammaOf(task);
  const budget = translationUncertainty(
    {
      procedure: task.correction === 2 ? 2 : 1,
      measuredIsc: task.measuredIsc,
      from: translatedFrom(task),
      to: task.translated.to,
      coefficients: task.coefficients,
      isc,
      // A curve without Voc still has a budget for the rest; its Voc line is not shown.
      voc: voc ?? task.coefficients.voc,
      imp,
      vmp,
      slopeAtIsc: Math.max(task.extraction.slopeAtIsc ?? 0, 0),
      slopeAtVoc: Math.max(task.extraction.slopeAtVoc ?? task.coefficients.rs, 0),
      temperatureFromVoc:
        task.conditions.temperatureSource === 'voc' ? task.measured.parameters.voc : undefined,
      kappaFromGamma:
        estimatedKappa && gamma !== undefined && nameplate?.imp && nameplate.vmp
          ? {
              imp: nameplate.imp.value * task.coefficients.parallel,
              vmp: nameplate.vmp.value * task.coefficients.series,
              gamma: gamma * modules,
            }
          : undefined,
    },
    { ...inputs, ...coefficientUncertainties(task, estimatedKappa), onResults: resultUncertainties(task) },
  );
  const lines = budget.lines.map(({ source, ...line }): BudgetLine => {
    const kind = source === 'beta' && task.correction === 'junction' ? 'junction' : source;
    return { ...line, kind, source: wordsOf(kind, task.repeatability) };
  });
  const isKnown = (name: ParameterName): boolean =>
    Number.isFinite(budget.expanded[name]) && (voc !== undefined || (name !== 'voc' && name !== 'ff'));
  const uncertainty = perParameter((name) => (isKnown(name) ? budget.expanded[name] : undefined));
  const { coverageFactor, degreesOfFreedom } = budget;
  const coverage = perParameter((name) =>
    isKnown(name) ? { factor: coverageFactor[name], degreesOfFreedom: degreesOfFreedom[name] } : undefined,
  );
  return { uncertainty, budget: lines, coverage };
}

const wordsOf = (kind: BudgetKind, repeatability: Repeatability | undefined): string =>
  kind === 'repeatability' ? `Repeatability, ${repeatability!.sweeps} sweeps` : kindWords[kind];

function translatedFrom({ interpolated, conditions }: UncertaintyTask): Conditions {
  const { irradiance, cellTemperature } = conditions;
  return interpolated?.between.conditions ?? { irradiance: irradiance!, cellTemperature: cellTemperature! };
}

/** Per module, W/K: as declared, or as the estimate that stands for it. */
function gammaOf({ target, translated, coefficients }: UncertaintyTask): number | undefined {
  const estimate = translated.estimates.find(({ symbol }) => symbol === 'gamma');
  return target.module?.gamma ?? (estimate && estimate.value / (coefficients.series * coefficients.parallel));
}

/** Of both sweeps of an interpolation, the larger of each, times what the interpolation makes of it. */
function pairUncertainties(
  task: UncertaintyTask,
  { partner, errorFactor }: Interpolated & { readonly partner: Partner },
): InputUncertainties | undefined {
  const own = instrumentUncertainties({ ...task, parameters: task.measured.parameters });
  const { conditions, measured } = partner.analysis;
  const other =
    measured && instrumentUncertainties({ ...partner, conditions, parameters: measured.parameters });
  const fromVoc = [task.conditions, conditions].some(({ temperatureSource }) => temperatureSource === 'voc');
  if (!own || !other || fromVoc) return undefined;
  const larger = (name: keyof InstrumentUncertainties): number => Math.max(own[name], other[name]);
  return {
    voltage: larger('voltage'),
    current: larger('current'),
    irradiance: larger('irradiance') * errorFactor.irradiance,
    alignment: larger('alignment') * errorFactor.irradiance,
    spectrum: larger('spectrum') * errorFactor.irradiance,
    drift: larger('drift') * errorFactor.irradiance,
    rear: larger('rear') * errorFactor.irradiance,
    temperature: larger('temperature') * errorFactor.temperature,
    temperatureSpread: larger('temperatureSpread') * errorFactor.temperature,
  };
}

/** k = 1, for the device, in absolute units. */
function coefficientUncertainties(task: UncertaintyTask, estimatedKappa: boolean): InputUncertainties {
  const { coefficients: c, target, translated, correction, junction } = task;
  const { module } = target;
  const modules = c.series * c.parallel;
  const fromVoc = task.conditions.temperatureSource === 'voc';
  const estimated = (symbol: string): boolean =>
    translated.estimates.some((estimate) => estimate.symbol === symbol);
  const declaredRs = module?.rs && standardUncertainty(module.rs);
  const declaredKappa = module?.kappa && standardUncertainty(module.kappa);
  const scale = c.series / c.parallel;
  const ofB1 = estimated('B1') && isThinFilm(module?.technology) ? assumed.b1OfThinFilm : assumed.b1;
  const ofIdeality = assumed.ideality[junction?.idealityFromBeta ? 'fromBeta' : 'taken'];
  return {
    alpha: Math.abs(c.alpha) * (estimated('alpha') ? assumed.alphaEstimated : assumed.alpha),
    // An error of the ideality factor moves dV/dT equally at every current, as one of beta does.
    beta:
      correction === 'junction'
        ? (ofIdeality * junction!.cells * c.series * siliconJunctionVoltage) / referenceTemperature
        : Math.abs(c.beta) * assumed.beta,
    gamma: estimatedKappa
      ? Math.abs((gammaOf(task) ?? 0) * modules) *
        (estimated('gamma') ? assumed.gammaEstimated : assumed.gamma)
      : undefined,
    rs:
      declaredRs === undefined
        ? c.rs * (estimated('Rs') ? assumed.rsEstimated : assumed.rsDeclared)
        : declaredRs * scale,
    kappa:
      estimatedKappa || correction === 'junction'
        ? undefined
        : declaredKappa === undefined
          ? Math.abs(c.kappa) * assumed.kappaDeclared
          : declaredKappa * scale,
    b1: correction === 2 || fromVoc ? Math.abs(c.b1) * ofB1 : undefined,
    vocAtStandard: fromVoc ? vocAtStandard(module) : undefined,
  };
}

/** k = 1, as a fraction: the larger side of the declared tolerance of production as a rectangle, else what is assumed of it. */
function vocAtStandard(module: ModuleRecord | undefined): number {
  const declared = module && tolerancesOf(module).voc;
  return declared === undefined ? assumed.vocAtStandard : declared / Math.sqrt(3);
}

/** What acts on the parameters themselves: noise, cable, scatter of repeated sweeps, and what the procedure leaves over. */
function resultUncertainties(task: UncertaintyTask): ResultUncertainty[] {
  const { extraction, correction, interpolated, cableUncertainty, repeatability } = task;
  const { parameters } = extraction;
  const noise = noiseOf(task);
  return [
    ...scatterLine(noise, repeatability),
    {
      source: 'procedure',
      relative: translationResidual(
        interpolated ? 3 : correction,
        task.target.module?.technology,
        translatedFrom(task),
      ),
    },
    ...(cableUncertainty !== undefined && parameters.imp && parameters.vmp
      ? [cableLine(cableUncertainty, parameters.imp, parameters.vmp)]
      : []),
  ];
}

/** Sweeps that repeat each other scatter by their noise too, so it is not counted beside them; but what is larger counts. */
function scatterLine(
  noise: Partial<Record<ParameterName, number>>,
  repeatability: Repeatability | undefined,
): ResultUncertainty[] {
  if (!repeatability) return Object.keys(noise).length > 0 ? [{ source: 'noise', relative: noise }] : [];
  const relative = { ...noise };
  const degreesOfFreedom: Partial<Record<ParameterName, number>> = {};
  for (const name of parameterNames) {
    const scatter = repeatability.relative[name] ?? 0;
    if (scatter < (noise[name] ?? 0)) continue;
    relative[name] = scatter;
    degreesOfFreedom[name] = repeatability.sweeps - 1;
  }
  return [{ source: 'repeatability', relative, degreesOfFreedom }];
}

/**
 * Standard errors of the translated parameters from the scatter of the points, as fractions. Isc at STC is the measured one in
 * proportion; and procedure 1 shifts every current by Isc1 (G2/G1 - 1), so the error of Isc1 adds to those of Imp and Pmax.
 */
function noiseOf(task: UncertaintyTask): Partial<Record<ParameterName, number>> {
  const { extraction, measured, correction, interpolated, conditions, translated } = task;
  const relative = relativeErrors(extraction);
  const ofIsc = relativeErrors(measured).isc;
  if (interpolated || ofIsc === undefined) return relative;
  const { isc, imp } = translated.parameters;
  const shifted = correction === 2 ? 0 : 1 - conditions.irradiance! / translated.to.irradiance;
  const share = (shifted * isc!) / imp!;
  const withShift = (error: number | undefined) => error && Math.hypot(error, ofIsc * share);
  return {
    ...relative,
    isc: ofIsc,
    imp: withShift(relative.imp),
    pmax: withShift(relative.pmax),
    // FF divides the shift in Pmax by Isc, which has the same error.
    ff: relative.pmax && Math.hypot(relative.pmax, relative.voc ?? 0, ofIsc * (1 - share)),
  };
}

function relativeErrors({ standardErrors, parameters }: ExtractedParameters) {
  const relative: Partial<Record<ParameterName, number>> = {};
  for (const name of ['isc', 'voc', 'imp', 'vmp', 'pmax'] as const) {
    const error = standardErrors[name];
    const value = parameters[name];
    if (error !== undefined && value) relative[name] = error / Math.abs(value);
  }
  return relative;
}

/** An error of the cable's resistance moves the voltage by I R: nothing at Voc, next to nothing at Isc. */
function cableLine(ohm: number, imp: number, vmp: number): ResultUncertainty {
  const share = (ohm * imp) / vmp;
  return { source: 'cable', relative: { vmp: share, pmax: share } };
}
