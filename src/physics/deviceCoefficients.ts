/** What the translation procedures need to know of a device, and how it follows from one module of it. */

interface Coefficients {
  /** Temperature coefficient of Isc at STC, A/K. */
  readonly alpha: number;
  /** Temperature coefficient of Voc at STC, V/K; negative. */
  readonly beta: number;
  /** Series resistance as the procedure in use means it (Rs, or Rs' at 25 degC), ohm. */
  readonly rs: number;
  /** Curve correction factor as the procedure in use means it (kappa or kappa'), ohm/K. */
  readonly kappa: number;
  /** Isc at STC, A. */
  readonly isc: number;
  /** Voc at STC, V. */
  readonly voc: number;
  /** Irradiance correction factors of Voc, dimensionless: f(G) = 1 + B1 ln(1000/G) + B2 ln²(1000/G). */
  readonly b1: number;
  readonly b2: number;
}

/** Coefficients of one module, in absolute units. */
export interface ModuleCoefficients extends Coefficients {
  /** Never here: so that what is scaled already cannot be scaled again. */
  readonly series?: never;
}

/** Coefficients of the measured device, in absolute units: `series` modules in series, `parallel` such strings in parallel. */
export interface DeviceCoefficients extends Coefficients {
  readonly series: number;
  readonly parallel: number;
}

/**
 * The coefficients of a device of `series` × `parallel` equal modules; a section of n modules is `series` n, one module is
 * 1 × 1. Voltages add in series and currents in parallel, hence alpha·Np, beta·Ns, Rs·Ns/Np, kappa·Ns/Np, Isc·Np, Voc·Ns;
 * B1 and B2 are ratios and stay. Translating the device with these is the same as composing its translated modules.
 */
export function deviceCoefficients(
  module: ModuleCoefficients,
  series: number,
  parallel: number,
): DeviceCoefficients {
  return {
    alpha: module.alpha * parallel,
    beta: module.beta * series,
    rs: (module.rs * series) / parallel,
    kappa: (module.kappa * series) / parallel,
    isc: module.isc * parallel,
    voc: module.voc * series,
    b1: module.b1,
    b2: module.b2,
    series,
    parallel,
  };
}

/** Nameplate values that fix kappa: A, V, A/K, V/K, W/K, ohm; `isc` (A) only for procedure 2. All of one device. */
export interface KappaInputs {
  readonly imp: number;
  readonly vmp: number;
  readonly alpha: number;
  readonly beta: number;
  /** Temperature coefficient of Pmax, W/K; negative. */
  readonly gamma: number;
  readonly rs: number;
}

/**
 * kappa of procedure 1, in ohm/K, such that the translated nameplate obeys gamma, the temperature coefficient of Pmax.
 *
 * Derivation. From STC, over dT at constant irradiance, procedure 1 moves the maximum power point to
 * I2 = Imp + alpha dT, V2 = Vmp - Rs alpha dT - kappa I2 dT + beta dT. At a maximum the shift of the point along the curve
 * does not change P to first order (envelope theorem), so dPmax/dT at dT = 0 is the derivative of I2 V2 at this fixed
 * point: gamma = alpha Vmp + Imp (beta - Rs alpha - kappa Imp). Solved for kappa:
 *
 *     kappa = [(beta - Rs alpha) Imp + Vmp alpha - gamma] / Imp²
 */
export function estimateKappa(nameplate: KappaInputs): number {
  const { imp, vmp, alpha, beta, gamma, rs } = nameplate;
  return ((beta - rs * alpha) * imp + vmp * alpha - gamma) / imp ** 2;
}

/**
 * kappa' of procedure 2, in ohm/K, such that the translated nameplate obeys gamma. The derivation is that of
 * `estimateKappa`; procedure 2 multiplies the current by 1 + alpha_rel dT, so at the maximum power point alpha is replaced
 * by alpha_rel Imp = alpha Imp / Isc.
 */
export function estimateKappaOfProcedure2(nameplate: KappaInputs & { readonly isc: number }): number {
  return estimateKappa({ ...nameplate, alpha: (nameplate.alpha * nameplate.imp) / nameplate.isc });
}

/** Five-parameter model of the nameplate at STC beside the nameplate itself. SI units; `a` is n Ns k T/q in V. */
export interface SeriesResistanceInputs {
  readonly isc: number;
  readonly voc: number;
  readonly imp: number;
  readonly vmp: number;
  readonly photocurrent: number;
  readonly rs: number;
  /** May be Infinity. */
  readonly rsh: number;
  readonly a: number;
}

/**
 * dPmax/d(ln G) at STC of the five-parameter model with photocurrent and shunt conductance proportional to irradiance
 * (De Soto, Klein, Beckman, Solar Energy 80 (2006) 78-88). By the envelope theorem it is Vmp times dI/d(ln G) at constant
 * voltage. With Vd = Vmp + Imp Rs and g the slope of diode and shunt, dI/d(ln G) = (IL - Vd/Rsh) / (1 + Rs g); at the
 * maximum g / (1 + Rs g) = Imp/Vmp, hence 1 / (1 + Rs g) = 1 - Rs Imp/Vmp.
 */
function powerPerLogIrradiance(model: SeriesResistanceInputs): number {
  const { imp, vmp, photocurrent, rs, rsh } = model;
  return (photocurrent - (vmp + imp * rs) / rsh) * (vmp - rs * imp);
}

/**
 * Rs of procedure 1, ohm, from the five-parameter model: such that the translated nameplate maximum follows the model's
 * dPmax/d(ln G) = P'. Procedure 1 moves the current by Isc and the voltage by -Rs Isc per unit of ln G, so
 * Vmp Isc - Imp Rs Isc = P'. The shunt conductance falls with irradiance and the procedure does not know it, which is why
 * this Rs is larger than the model's own, by about Vmp²/(Rsh Isc Imp). It leaves Voc too low: `resistanceOfProcedure1` weighs
 * both.
 */
export function estimateRs(model: SeriesResistanceInputs): number {
  return model.vmp / model.imp - powerPerLogIrradiance(model) / (model.imp * model.isc);
}

/** degC: the middle of 10 to 65 degC, in which sweeps are taken (own choice). */
export const middleTemperature = 37.5;

/**
 * Rs' of procedure 2 at 25 degC, ohm, in the same way: the procedure moves the current by Imp and the voltage by
 * -Rs' Imp + B1 Voc per unit of ln G, so Vmp Imp + Imp (B1 Voc - Rs' Imp) = P', with B1 Voc = a.
 *
 * That is the resistance wanted at every temperature, since the model's own does not change. The procedure adds kappa'
 * (T - 25) to it, which is right only at one temperature: with `kappa` (kappa', ohm/K) that is `middleTemperature`, where
 * what is left over on either side is least; without, 25 degC.
 */
export function estimateRsOfProcedure2(model: SeriesResistanceInputs, kappa = 0): number {
  const wanted = (model.vmp + model.a - powerPerLogIrradiance(model) / model.imp) / model.imp;
  return Math.max(0, wanted - kappa * (middleTemperature - 25));
}

/**
 * B1 of procedure 2 from the five-parameter model: `a` = n Ns k T/q (V) over Voc (V), both at STC of one device.
 *
 * Derivation. With photocurrent and shunt conductance in proportion to irradiance, Voc(G) = Voc,STC - a L with
 * L = ln(1000/G). Hence f(G) = Voc,STC/Voc(G) = 1/(1 - (a/Voc) L) = 1 + (a/Voc) L + (a/Voc)² L² + …, so B1 = a/Voc and
 * B2 = B1². Leaving B2 at 0 costs 0.1 % of Voc at 500 W/m2 for crystalline silicon, and next to nothing above 800.
 */
export function estimateB1(a: number, voc: number): number {
  return a / voc;
}

/** B2 of procedure 2 in the same way, (a/Voc)²: see `estimateB1`. */
export function estimateB2(a: number, voc: number): number {
  return (a / voc) ** 2;
}

/** f(G) = Voc,STC/Voc(G, 25 degC) = 1 + B1 ln(1000/G) + B2 ln²(1000/G); G in W/m2. */
export function irradianceFactor(c: Pick<Coefficients, 'b1' | 'b2'>, irradiance: number): number {
  const logarithm = Math.log(1000 / irradiance);
  return 1 + c.b1 * logarithm + c.b2 * logarithm ** 2;
}
