/**
 * Uncertainty of how far two sweeps differ. What both have in common moves both alike and cancels as far as it acts alike on
 * each; the rest adds. Which line of a budget is common is told by what stands behind it.
 */
import type { InstrumentRecord, ModuleRecord, ParameterName, SweepTarget } from '../campaign/model.js';
import { parameterNames } from '../physics/ivCurve.js';
import type { BudgetKind, BudgetLine, SweepAnalysis } from './sweepAnalysis.js';

export interface ComparedSweep {
  readonly target: SweepTarget;
  readonly analysis: SweepAnalysis;
}

/**
 * `session`: the same visit, with nothing taken down between. `visits`: sensors were taken down and mounted again, under
 * another sky.
 */
export type Occasion = 'session' | 'visits';

/** Expanded (k = 2), as fractions of the parameter. */
export interface DifferenceUncertainty {
  /** Of the difference as it stands. */
  readonly whole: number;
  /** Of what the two sweeps do not share with any other pair of the same two occasions: for pairs among themselves. */
  readonly own: number;
}

export type Differences = Readonly<Partial<Record<ParameterName, DifferenceUncertainty>>>;

/**
 * What readings scatter although nothing was changed, k = 1, as fractions (own choices, no source): between sweeps of one
 * session the light moves on between its reading and the sweep and cells are not all as warm as the sensor (0.3 K); between
 * visits the reference is mounted again (0.3 % of the irradiance more) and the sensor sits elsewhere (0.7 K).
 */
const scatter: Readonly<Record<Occasion, Readonly<Record<ParameterName, number>>>> = {
  session: { isc: 0.002, imp: 0.002, voc: 0.001, vmp: 0.001, pmax: 0.0025, ff: 0.001 },
  visits: { isc: 0.0035, imp: 0.0035, voc: 0.002, vmp: 0.0025, pmax: 0.0045, ff: 0.002 },
};

/**
 * What two sweeps have to have in common for a line of their budgets to be one error. `sweep`: it acts on one sweep alone;
 * `visit`: the light of the day at a reference that was mounted once, and at the rear.
 */
type Sharing = 'sweep' | 'tracer' | 'reference' | 'visit' | 'procedure' | 'cable' | 'nameplate';

const sharing: Readonly<Record<BudgetKind, Sharing>> = {
  noise: 'sweep',
  repeatability: 'sweep',
  drift: 'sweep',
  voltage: 'tracer',
  current: 'tracer',
  irradiance: 'reference',
  temperature: 'reference',
  alignment: 'visit',
  spectrum: 'visit',
  rear: 'visit',
  procedure: 'procedure',
  cable: 'cable',
  // What sweeps do not have of it in common stands in `scatter`.
  temperatureSpread: 'nameplate',
  alpha: 'nameplate',
  beta: 'nameplate',
  junction: 'nameplate',
  gamma: 'nameplate',
  rs: 'nameplate',
  kappa: 'nameplate',
  b1: 'nameplate',
  b2: 'nameplate',
  vocAtStandard: 'nameplate',
};

/**
 * Of (b - a)/a for each parameter. Calibrations of one instrument (same name, serial number and date of calibration) are
 * fully correlated; alignment, spectrum and the light of the rear within a session alone; coefficients where the nameplate is the same. What the
 * procedure leaves over counts as common within a session, where the conditions are alike. Undefined where a budget is not
 * known.
 */
export function differenceUncertainty(
  a: ComparedSweep,
  b: ComparedSweep,
  occasion: Occasion,
): Differences | undefined {
  const [first, second] = [a.analysis.budget, b.analysis.budget];
  if (first.length === 0 || second.length === 0) return undefined;
  const kinds = new Set([...first, ...second].map(({ kind }) => kind));
  const known = parameterNames.filter(
    (name) => a.analysis.uncertainty[name] !== undefined && b.analysis.uncertainty[name] !== undefined,
  );
  return Object.fromEntries(
    known.map((name) => {
      const whole = [scatter[occasion][name]];
      const own = [scatter[occasion][name]];
      for (const kind of kinds) {
        const [one, other] = [contribution(first, kind, name), contribution(second, kind, name)];
        const left = isCommon(sharing[kind], a.target, b.target, occasion) ? [other - one] : [one, other];
        whole.push(...left);
        if (sharing[kind] === 'sweep') own.push(one, other);
      }
      return [name, { whole: 2 * Math.hypot(...whole), own: 2 * Math.hypot(...own) }];
    }),
  );
}

/** The scatter of readings alone, expanded: what stands where no accuracies are declared. */
export function scatterAlone(occasion: Occasion, name: ParameterName): number {
  return 2 * Math.SQRT2 * scatter[occasion][name];
}

function contribution(lines: readonly BudgetLine[], kind: BudgetKind, name: ParameterName): number {
  return lines.find((line) => line.kind === kind)?.contribution[name] ?? 0;
}

function isCommon(by: Sharing, a: SweepTarget, b: SweepTarget, occasion: Occasion): boolean {
  switch (by) {
    case 'sweep':
      return false;
    case 'tracer':
      return isSameInstrument(a.tracer, b.tracer);
    case 'reference':
      return isSameInstrument(a.reference, b.reference);
    case 'visit':
      return occasion === 'session' && isSameInstrument(a.reference, b.reference);
    case 'procedure':
      return occasion === 'session' && isSameNameplate(a, b);
    case 'cable':
      return a.string !== undefined && isSameCable(a, b);
    case 'nameplate':
      return isSameNameplate(a, b);
  }
}

/** Name, serial number and date of calibration are the same: its errors of calibration are too. */
export function isSameInstrument(a: InstrumentRecord | undefined, b: InstrumentRecord | undefined): boolean {
  if (!a || !b) return false;
  if (a === b) return true;
  return a.name.text === b.name.text && a.serial === b.serial && a.calibrated?.text === b.calibrated?.text;
}

function isSameCable(
  { string: a, wholeString: wholeA }: SweepTarget,
  { string: b, wholeString }: SweepTarget,
) {
  const written = ({ cable }: NonNullable<SweepTarget['string']>) =>
    cable && [cable.length.value, cable.crossSection.value, cable.conductor].join();
  return wholeA === wholeString && a !== undefined && b !== undefined && written(a) === written(b);
}

function isSameNameplate({ module: a }: SweepTarget, { module: b }: SweepTarget): boolean {
  if (a === b) return a !== undefined;
  return a !== undefined && b !== undefined && nameplateText(a) === nameplateText(b);
}

function nameplateText({
  name,
  isc,
  voc,
  imp,
  vmp,
  pmax,
  alpha,
  beta,
  gamma,
  rs,
  kappa,
}: ModuleRecord): string {
  const points = [isc, voc, imp, vmp, pmax, rs, kappa].map((each) => each?.value);
  return [name.text, ...points, alpha, beta, gamma].join();
}
