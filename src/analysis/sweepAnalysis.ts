import type { ParameterName, ProcedureName } from '../campaign/model.js';
import type { Conditions, CurveParameters, IvCurve } from '../physics/ivCurve.js';
import type { BudgetSource, ResultSource } from '../physics/uncertainty.js';

export type Verdict = 'pass' | 'conditional pass' | 'conditional fail' | 'fail' | 'not judged' | 'void';

/** A value the nameplate did not give and a documented estimate stands for. Shown wherever a number rests on it. */
export interface Estimate {
  /** `Rs`, `kappa`, `B1`, … */
  readonly symbol: string;
  /** For the measured device, in `unit`. */
  readonly value: number;
  readonly unit: string;
  /** How, in words: `five-parameter model of the nameplate (De Soto 2006)`. */
  readonly method: string;
}

/** One reason in words. `code` is stable. */
export interface Reason {
  readonly code: string;
  readonly text: string;
  /** The parameter it speaks of, where it speaks of one. */
  readonly parameter?: ParameterName;
  /** Does this reason decide the verdict (a failed limit, a condition not met)? */
  readonly decisive: boolean;
}

/** How a standard uncertainty was expanded to 95.45 % (JCGM 100:2008, G.3.2 and G.4.1). */
export interface Coverage {
  /** k: 2, or more where few repeated sweeps tell the scatter. */
  readonly factor: number;
  /** Effective ones; Infinity where k is 2. */
  readonly degreesOfFreedom: number;
}

/** Expanded uncertainties (95.45 %: k = 2 unless `coverage` says more) as fractions of the value; undefined where not known. */
export type RelativeUncertainties = Readonly<Record<ParameterName, number | undefined>>;

/** Relative standard deviations (k = 1) of one sweep among repeated sweeps of the same device. */
export interface Repeatability {
  readonly sweeps: number;
  readonly relative: Readonly<Partial<Record<ParameterName, number>>>;
}

/** `junction`: the voltage-temperature relation, which stands where the nameplate gives no beta. */
export type BudgetKind = BudgetSource | ResultSource | 'junction';

/** One line of an uncertainty budget: standard uncertainty of the input and what it adds to the parameter (k = 1, fraction). */
export interface BudgetLine {
  readonly kind: BudgetKind;
  /** In words. */
  readonly source: string;
  readonly standardUncertainty: number;
  readonly unit: string;
  readonly contribution: Readonly<Record<ParameterName, number>>;
  /** Where few observations tell it; absent: infinite. */
  readonly degreesOfFreedom?: Readonly<Partial<Record<ParameterName, number>>> | undefined;
}

export interface SweepConditions {
  readonly irradiance?: number;
  /** Relative expanded uncertainty, k = 2. */
  readonly irradianceUncertainty?: number;
  /** What the rear of a bifacial module adds to it, as a fraction of `irradiance`, k = 2; absent where no rear reading counts. */
  readonly rearUncertainty?: number;
  readonly cellTemperature?: number;
  /** Kelvin, k = 2. */
  readonly temperatureUncertainty?: number;
  readonly temperatureSource?: 'cell' | 'module' | 'voc';
  /** Second reading of the cell temperature, degC, where the sweep gives one. */
  readonly checkTemperature?: number;
  /** Equivalent cell temperature from Voc, degC, where the device has one; beside the one that counts. */
  readonly vocTemperature?: number;
  /** Range over mean of the irradiance column, or difference over mean of a reading before and after; a fraction. */
  readonly drift?: number;
  /** The drift is that between two readings, which no column follows point by point. */
  readonly driftUncorrected?: boolean;
  /** Angle of incidence of the sun on the plane, degrees. */
  readonly incidence?: number;
  /** From the position of the sun, or, where that is not known, from the shadow of a pin. */
  readonly incidenceSource?: 'sun' | 'pin';
  /** What the shadow of a pin says of it, degrees, beside the one that counts. */
  readonly pinIncidence?: number;
  /** Degrees above the horizon. */
  readonly sunElevation?: number;
  readonly points?: number;
}

/** A curve with its parameters and what was found while extracting them. */
export interface AnalysedCurve {
  readonly curve: IvCurve;
  readonly parameters: CurveParameters;
  /** Stable codes with words, such as an extrapolated Voc. */
  readonly flags: readonly { readonly code: string; readonly text: string }[];
}

export interface MeasuredCurve extends AnalysedCurve {
  /** Standard deviation of current around the local fit, A. */
  readonly noise?: number;
  /** -dI/dV at V = 0, siemens; its inverse is the apparent shunt resistance. */
  readonly slopeAtIsc?: number;
  /** -dV/dI at I = 0, ohm: the apparent series resistance. */
  readonly slopeAtVoc?: number;
}

export interface Interpolation {
  /** The other sweep: `1.03 at 2026-05-14 11:42`. */
  readonly partner: string;
  /** a of procedure 3: 0 is the sweep itself, 1 the other; outside 0 to 1 it extrapolates. */
  readonly fraction: number;
  /** Cell temperature of the interpolated curve, degC, from which the temperature is then corrected. */
  readonly cellTemperature: number;
}

export interface TranslatedCurve extends AnalysedCurve {
  readonly to: Conditions;
  readonly procedure: ProcedureName;
  /** The other curve of an interpolation by procedure 3, and what lies between. */
  readonly interpolation?: Interpolation;
  readonly estimates: readonly Estimate[];
  /** Points from this index on were added to reach zero current. */
  readonly continuedFrom?: number;
}

export interface SweepAnalysis {
  readonly conditions: SweepConditions;
  readonly measured?: MeasuredCurve;
  readonly translated?: TranslatedCurve;
  /** Nameplate times series and parallel counts. */
  readonly nameplate?: CurveParameters;
  /** Five-parameter model of the nameplate at STC. */
  readonly expected?: IvCurve;
  /** (translated - nameplate) / nameplate. */
  readonly deviation: Readonly<Record<ParameterName, number | undefined>>;
  readonly uncertainty: RelativeUncertainties;
  readonly budget: readonly BudgetLine[];
  /** Of each parameter whose uncertainty is known. */
  readonly coverage?: Readonly<Record<ParameterName, Coverage | undefined>>;
  readonly verdict: Verdict;
  readonly reasons: readonly Reason[];
}
