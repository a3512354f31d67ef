/**
 * Uncertainty of translated curve parameters: law of propagation, JCGM 100:2008 (GUM) clause 5, with numeric sensitivities
 * through the translation equations. It works on three places of the curve (near V = 0, around the maximum, near I = 0), so
 * it costs microseconds.
 */
import { cellTemperatureFromVoc } from './cellTemperature.js';
import { estimateKappa, type DeviceCoefficients } from './deviceCoefficients.js';
import { expand } from './effectiveFreedom.js';
import { perParameter, type Conditions, type ParameterName } from './ivCurve.js';
import {
  translatePointByProcedure1,
  translatePointByProcedure2,
  untranslatePointByProcedure1,
  untranslatePointByProcedure2,
  type CurvePoint,
  type TranslationTask,
} from './translation.js';

type PerParameter = Readonly<Record<ParameterName, number>>;

/** A translated curve as far as its uncertainty depends on it. */
export interface TranslatedPoint {
  readonly procedure: 1 | 2;
  /** Isc of the measured curve, A. */
  readonly measuredIsc: number;
  readonly from: Conditions;
  readonly to: Conditions;
  readonly coefficients: DeviceCoefficients;
  /** Of the translated curve: A, V. */
  readonly isc: number;
  readonly voc: number;
  readonly imp: number;
  readonly vmp: number;
  /** -dI/dV of the translated curve at V = 0, S; it tells the curvature at the maximum. */
  readonly slopeAtIsc: number;
  /** -dV/dI of the translated curve at I = 0, ohm. */
  readonly slopeAtVoc: number;
  /** d²I/dV² of the translated curve at the maximum, A/V²; estimated from the single-diode equation when absent. */
  readonly curvatureAtMaximum?: number | undefined;
  /** Where `from.cellTemperature` was had from Voc: the measured Voc, V. Errors of Voc and irradiance then move it. */
  readonly temperatureFromVoc?: number | undefined;
  /** Where kappa was estimated from gamma: the device's nameplate. Errors of alpha, beta, gamma and Rs then move kappa. */
  readonly kappaFromGamma?:
    { readonly imp: number; readonly vmp: number; readonly gamma: number } | undefined;
}

/** Standard uncertainties (k = 1). Absent: not counted. */
export interface InputUncertainties {
  /** Tracer, as fractions of the reading. */
  readonly voltage?: number | undefined;
  readonly current?: number | undefined;
  /** Reference device, as fractions of the irradiance: its reading, how it is turned, its spectrum, the light that changed. */
  readonly irradiance?: number | undefined;
  readonly alignment?: number | undefined;
  readonly spectrum?: number | undefined;
  readonly drift?: number | undefined;
  /** What the rear of a bifacial module adds to the irradiance that counts, as a fraction of the whole. */
  readonly rear?: number | undefined;
  /** K: of the reading, and of the mean of all cells against the place of the sensor. */
  readonly temperature?: number | undefined;
  readonly temperatureSpread?: number | undefined;
  /** Coefficients of the device in absolute units: A/K, V/K, W/K, ohm, ohm/K, 1, 1. */
  readonly alpha?: number | undefined;
  readonly beta?: number | undefined;
  readonly gamma?: number | undefined;
  readonly rs?: number | undefined;
  readonly kappa?: number | undefined;
  readonly b1?: number | undefined;
  readonly b2?: number | undefined;
  /** Voc that the device really has at STC, as a fraction; it counts where the temperature was had from Voc. */
  readonly vocAtStandard?: number | undefined;
  /** What acts on the results themselves: standard error of the extraction, residual of the procedure, repeatability. */
  readonly onResults?: readonly ResultUncertainty[] | undefined;
}

/** An independent contribution to each parameter, as fractions, k = 1. FF, where absent, follows from Pmax, Isc and Voc. */
export interface ResultUncertainty {
  readonly source: ResultSource;
  readonly relative: Readonly<Partial<Record<ParameterName, number>>>;
  /** Of the parameters that few observations tell; absent: infinite, as of an estimate from other knowledge (type B, G.4.3). */
  readonly degreesOfFreedom?: Readonly<Partial<Record<ParameterName, number>>> | undefined;
}

export type BudgetSource =
  | 'voltage'
  | 'current'
  | 'irradiance'
  | 'alignment'
  | 'spectrum'
  | 'drift'
  | 'rear'
  | 'temperature'
  | 'temperatureSpread'
  | 'alpha'
  | 'beta'
  | 'gamma'
  | 'rs'
  | 'kappa'
  | 'b1'
  | 'b2'
  | 'vocAtStandard';

/** Scatter of the points or of repeated sweeps, what the procedure leaves over, the cable that was corrected. */
export type ResultSource = 'noise' | 'repeatability' | 'procedure' | 'cable';

/** One input: its standard uncertainty, and what it adds to each parameter (k = 1, fraction, with the sign of its effect). */
export interface UncertaintyLine {
  readonly source: BudgetSource | ResultSource;
  readonly standardUncertainty: number;
  readonly unit: string;
  readonly contribution: PerParameter;
  /** Where they are finite. */
  readonly degreesOfFreedom?: Readonly<Partial<Record<ParameterName, number>>> | undefined;
}

export interface UncertaintyBudget {
  readonly lines: readonly UncertaintyLine[];
  /** Relative expanded uncertainty of each parameter for a coverage of 95.45 %. */
  readonly expanded: PerParameter;
  /** By what the combined standard uncertainty was multiplied: 2 unless few observations tell a part of it (GUM, annex G). */
  readonly coverageFactor: PerParameter;
  /** Effective ones (Welch-Satterthwaite); Infinity where k is 2. */
  readonly degreesOfFreedom: PerParameter;
}

/** Errors of the inputs, all zero at the estimate. */
type Errors = Partial<Record<BudgetSource, number>>;

const units: Readonly<Record<BudgetSource, string>> = {
  voltage: '1',
  current: '1',
  irradiance: '1',
  alignment: '1',
  spectrum: '1',
  drift: '1',
  rear: '1',
  temperature: 'K',
  temperatureSpread: 'K',
  alpha: 'A/K',
  beta: 'V/K',
  gamma: 'W/K',
  rs: 'ohm',
  kappa: 'ohm/K',
  b1: '1',
  b2: '1',
  vocAtStandard: '1',
};
const sources = Object.keys(units) as BudgetSource[];

/**
 * The budget of a translated curve. Each input is moved by its standard uncertainty up and down and the parameters are
 * computed anew (JCGM 100:2008, 5.1.3, note 2); inputs are independent of each other, and an input that acts in several ways
 * (the tracer's current on every point and on Isc1; beta on the voltage and on an estimated kappa) is moved in all of them at
 * once. FF is computed from the moved Isc, Voc and Pmax, so its correlation with them needs no further term.
 */
export function translationUncertainty(
  point: TranslatedPoint,
  inputs: InputUncertainties,
): UncertaintyBudget {
  const parametersAt = translatedParameters(point);
  const estimate = parametersAt({});
  const lines: UncertaintyLine[] = [];
  for (const source of sources) {
    const u = inputs[source];
    if (u === undefined || u === 0) continue;
    const up = parametersAt({ [source]: u });
    const down = parametersAt({ [source]: -u });
    lines.push({
      source,
      standardUncertainty: u,
      unit: units[source],
      contribution: perParameter((name) => (up[name] - down[name]) / 2 / estimate[name]),
    });
  }
  for (const result of inputs.onResults ?? []) lines.push(lineOfResult(result));
  const expansions = perParameter((name) =>
    expand(
      lines.map(({ contribution, degreesOfFreedom }) => ({
        standard: contribution[name],
        degreesOfFreedom: degreesOfFreedom?.[name] ?? Infinity,
      })),
    ),
  );
  return {
    lines,
    expanded: perParameter((name) => expansions[name].factor * expansions[name].combined),
    coverageFactor: perParameter((name) => expansions[name].factor),
    degreesOfFreedom: perParameter((name) => expansions[name].degreesOfFreedom),
  };
}

function lineOfResult({ source, relative, degreesOfFreedom }: ResultUncertainty): UncertaintyLine {
  const ff = relative.ff ?? Math.hypot(relative.pmax ?? 0, relative.isc ?? 0, relative.voc ?? 0);
  const contribution = perParameter((name) => (name === 'ff' ? ff : (relative[name] ?? 0)));
  return { source, standardUncertainty: contribution.pmax, unit: '1', contribution, degreesOfFreedom };
}

/** The parameters as a function of the errors of the inputs; the measured points stay as they were read. */
function translatedParameters(p: TranslatedPoint): (errors: Errors) => PerParameter {
  const [forward, back] =
    p.procedure === 1
      ? [translatePointByProcedure1, untranslatePointByProcedure1]
      : [translatePointByProcedure2, untranslatePointByProcedure2];
  const task: TranslationTask = { isc: p.measuredIsc, from: p.from, to: p.to, coefficients: p.coefficients };
  const atVoc = back({ voltage: p.voc, current: 0 }, task);
  const aroundMaximum = pointsAroundMaximum(p).map((point) => back(point, task));

  return (errors) => {
    const moved = movedTask(p, errors);
    const translate = (measured: CurvePoint): CurvePoint =>
      forward(
        {
          voltage: measured.voltage * (1 + (errors.voltage ?? 0)),
          current: measured.current * (1 + (errors.current ?? 0)),
        },
        moved,
      );
    // Isc at STC is the translated point, wherever along the voltage it comes to lie.
    const isc = translate({ voltage: 0, current: p.measuredIsc }).current;
    const nearVoc = translate(atVoc);
    const voc = nearVoc.voltage + p.slopeAtVoc * nearVoc.current;
    const { vmp, pmax } = maximumThrough(aroundMaximum.map(translate));
    return { isc, voc, imp: pmax / vmp, vmp, pmax, ff: pmax / (isc * voc) };
  };
}

function movedTask(p: TranslatedPoint, errors: Errors): TranslationTask {
  const coefficients = movedCoefficients(p, errors);
  const { irradiance: reading = 0, alignment = 0, spectrum = 0, drift = 0, rear = 0 } = errors;
  const irradiance = p.from.irradiance * (1 + reading + alignment + spectrum + drift + rear);
  let shift = (errors.temperature ?? 0) + (errors.temperatureSpread ?? 0);
  if (p.temperatureFromVoc !== undefined) {
    const voc = p.temperatureFromVoc * (1 + (errors.voltage ?? 0));
    const before = cellTemperatureFromVoc(p.temperatureFromVoc, p.from.irradiance, p.coefficients);
    const own = { ...coefficients, voc: coefficients.voc * (1 + (errors.vocAtStandard ?? 0)) };
    const after = cellTemperatureFromVoc(voc, irradiance, own);
    if (before !== undefined && after !== undefined) shift += after - before;
  }
  return {
    isc: p.measuredIsc * (1 + (errors.current ?? 0)),
    from: { irradiance, cellTemperature: p.from.cellTemperature + shift },
    to: p.to,
    coefficients,
  };
}

const coefficientSources = ['alpha', 'beta', 'gamma', 'rs', 'kappa', 'b1', 'b2'] as const;

function movedCoefficients(p: TranslatedPoint, errors: Errors): DeviceCoefficients {
  const c = p.coefficients;
  if (coefficientSources.every((source) => errors[source] === undefined)) return c;
  const moved = {
    ...c,
    alpha: c.alpha + (errors.alpha ?? 0),
    beta: c.beta + (errors.beta ?? 0),
    rs: c.rs + (errors.rs ?? 0),
    kappa: c.kappa + (errors.kappa ?? 0),
    b1: c.b1 + (errors.b1 ?? 0),
    b2: c.b2 + (errors.b2 ?? 0),
  };
  const nameplate = p.kappaFromGamma;
  if (!nameplate) return moved;
  const kappaOf = ({ alpha, beta, rs }: DeviceCoefficients, gamma: number): number =>
    estimateKappa({
      imp: nameplate.imp,
      vmp: nameplate.vmp,
      alpha: p.procedure === 1 ? alpha : (alpha * nameplate.imp) / c.isc,
      beta,
      rs,
      gamma,
    });
  const change = kappaOf(moved, nameplate.gamma + (errors.gamma ?? 0)) - kappaOf(c, nameplate.gamma);
  return { ...moved, kappa: moved.kappa + change };
}

/**
 * The translated maximum and a point 2 % of Vmp to either side. At the maximum the slope of the curve is -Imp/Vmp; its
 * curvature decides how far Vmp and Imp move along the curve when its shape changes. Pmax does not depend on it to first
 * order (envelope theorem: at the maximum, dPmax is the change of P at the fixed point).
 */
function pointsAroundMaximum(p: TranslatedPoint): CurvePoint[] {
  const { imp, vmp } = p;
  const curvature = p.curvatureAtMaximum ?? curvatureOfSingleDiode(p);
  return [-0.02 * vmp, 0, 0.02 * vmp].map((step) => ({
    voltage: vmp + step,
    current: imp - (imp / vmp) * step + (curvature / 2) * step ** 2,
  }));
}

/**
 * d²I/dV² at the maximum of a single-diode curve from its characteristic values. With q = 1 - Rs Imp/Vmp, the junction's slope
 * is g = (Imp/Vmp)/q - 1/Rsh, the diode current there I_D = Isc (1 + Rs/Rsh) - Imp - (Vmp + Rs Imp)/Rsh, its thermal voltage
 * I_D/g, hence d²I/dV² = -q³ g²/I_D.
 */
function curvatureOfSingleDiode(p: TranslatedPoint): number {
  const { isc, imp, vmp, slopeAtIsc: shunt } = p;
  const rs = Math.min(p.coefficients.rs, (0.5 * vmp) / imp);
  const q = 1 - (rs * imp) / vmp;
  const g = Math.max(imp / vmp / q - shunt, (0.1 * imp) / vmp);
  const diode = Math.max(isc * (1 + rs * shunt) - imp - (vmp + rs * imp) * shunt, 0.01 * isc);
  return (-(q ** 3) * g ** 2) / diode;
}

/** Vertex of the parabola P(V) through three points. */
function maximumThrough(points: readonly CurvePoint[]): { vmp: number; pmax: number } {
  const [a, b, c] = points as [CurvePoint, CurvePoint, CurvePoint];
  const [pa, pb, pc] = points.map(({ voltage, current }) => voltage * current) as [number, number, number];
  const left = (pb - pa) / (b.voltage - a.voltage);
  const right = (pc - pb) / (c.voltage - b.voltage);
  const bend = (right - left) / (c.voltage - a.voltage);
  // P = pb + slope (V - Vb) + bend (V - Vb)².
  const slope = left + bend * (b.voltage - a.voltage);
  const step = -slope / (2 * bend);
  return { vmp: b.voltage + step, pmax: pb + (slope * step) / 2 };
}
