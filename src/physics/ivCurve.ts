/**
 * One I-V curve: equal-length arrays of finite numbers, voltage in V ascending (equal voltages allowed), current in A,
 * positive when generating.
 */
export interface IvCurve {
  readonly voltage: Float64Array;
  readonly current: Float64Array;
}

/** Irradiance in W/m2 (1 to 1500), cell temperature in degC (-40 to 110). */
export interface Conditions {
  readonly irradiance: number;
  readonly cellTemperature: number;
}

/** Standard test conditions: 1000 W/m2, 25 degC, AM1.5 (IEC TS 61836). */
export const standardTestConditions: Conditions = { irradiance: 1000, cellTemperature: 25 };

/** Isc, Imp in A; Voc, Vmp in V; Pmax in W; FF a fraction. Undefined: the points do not carry it. */
export interface CurveParameters {
  readonly isc: number | undefined;
  readonly voc: number | undefined;
  readonly imp: number | undefined;
  readonly vmp: number | undefined;
  readonly pmax: number | undefined;
  readonly ff: number | undefined;
}

export type ParameterName = keyof CurveParameters;

export const parameterNames: readonly ParameterName[] = ['isc', 'voc', 'imp', 'vmp', 'pmax', 'ff'];

/** A record of one value for each parameter. */
export function perParameter<T>(value: (name: ParameterName) => T): Record<ParameterName, T> {
  return {
    isc: value('isc'),
    voc: value('voc'),
    imp: value('imp'),
    vmp: value('vmp'),
    pmax: value('pmax'),
    ff: value('ff'),
  };
}

/** Of points that carry no parameter. */
export const unknownParameters: Readonly<Record<ParameterName, undefined>> = perParameter(() => undefined);
