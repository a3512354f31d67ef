/** A module type's own coefficients as a table for a terminal and as JSON. */
import type { OwnCoefficient, OwnCoefficients, Span } from '../analysis/ownCoefficients.js';
import type { CoefficientResult } from './coefficientSchema.js';
import { valueWithUncertainty } from './fitRows.js';
import { formatDeviation, formatValue, missing, roundSignificant } from './formatNumber.js';
import { resultDigits } from './resultDigits.js';

export interface CoefficientReport {
  readonly module: string;
  /** The address that was asked for; absent for all sweeps of the type. */
  readonly address?: string;
  readonly own: OwnCoefficients;
}

export interface CoefficientRow {
  readonly symbol: string;
  /** With its standard error, or `-`. */
  readonly value: string;
  readonly nameplate: string;
  readonly difference: string;
  readonly sweeps: string;
  /** Largest residual of a sweep. */
  readonly largest: string;
  readonly refusal: string;
}

export function coefficientRows({ own }: CoefficientReport): CoefficientRow[] {
  return own.coefficients.map((each) => ({
    symbol: each.symbol,
    value:
      each.value === undefined ? missing : valueWithUncertainty(each.value, each.standardError, each.unit),
    nameplate: nameplateText(each),
    difference: formatDeviation(
      each.value === undefined || !each.nameplate?.value ? undefined : each.value / each.nameplate.value - 1,
    ),
    sweeps: String(each.sweeps),
    largest:
      each.residuals.length === 0
        ? missing
        : `${(100 * Math.max(...each.residuals.map(({ residual }) => Math.abs(residual)))).toFixed(2)} % of ${each.of}`,
    refusal: each.refusal ?? '',
  }));
}

function nameplateText({ nameplate, unit }: OwnCoefficient): string {
  if (!nameplate) return missing;
  return `${formatValue(nameplate.value, unit, 3)}${nameplate.declared ? '' : ' (estimated)'}`;
}

const spanText = ({ least, most }: Span, decimals: number): string =>
  `${least.toFixed(decimals)} to ${most.toFixed(decimals)}`;

export function coefficientTitle({ module, address, own }: CoefficientReport): string {
  const count = own.sweeps.length;
  const of = address === undefined ? '' : ` of ${address}`;
  const conditions =
    own.irradiance && own.cellTemperature
      ? ` (${spanText(own.irradiance, 0)} W/m2, ${spanText(own.cellTemperature, 1)} degC)`
      : '';
  return `Coefficients of one module ${module} from ${count} ${count === 1 ? 'sweep' : 'sweeps'}${of}${conditions}`;
}

/** What a reader has to know of them. */
export const coefficientNotes: readonly string[] = [
  'Behind ±: standard error (k = 1) from the scatter of the sweeps alone; what all sweeps have in common, such as the calibration of an instrument, is not in it.',
  'Rs and kappa are those of IEC 60891 procedure 1, found so that the translated sweeps agree in Pmax; alpha, beta and B1 by least squares.',
  'Nothing is changed by this: write a coefficient into the module block to use it.',
  'With Rs, kappa and B1 all in the module block, write `procedure IEC60891-1` into the criteria too, or leave B1 out: `auto` takes the three for those of procedure 2, whose Rs and kappa are others. B1 serves procedure 2 and `temperature from Voc`.',
];

/** The table, the reasons of what was refused, and the sweeps left out. */
export function coefficientTable(report: CoefficientReport): string {
  const rows = coefficientRows(report);
  const head = ['', 'own value', 'nameplate', 'difference', 'sweeps', 'largest residual'];
  const cells = rows.map(({ symbol, value, nameplate, difference, sweeps, largest }) => [
    symbol,
    value,
    nameplate,
    difference,
    sweeps,
    largest,
  ]);
  const widths = head.map((text, k) => Math.max(text.length, ...cells.map((row) => row[k]!.length)));
  const line = (row: readonly string[]): string =>
    row
      .map((cell, k) => cell.padEnd(widths[k]!))
      .join('  ')
      .trimEnd();
  const refused = rows.filter(({ refusal }) => refusal !== '');
  return [
    coefficientTitle(report),
    '',
    line(head),
    ...cells.map(line),
    '',
    ...refused.map(({ symbol, refusal }) => `${symbol}: not determined. ${refusal}`),
    ...report.own.leftOut.map(({ sweep, reason }) => `Left out: ${sweep}, ${reason}.`),
    ...coefficientNotes,
    '',
  ].join('\n');
}

const rounded = (value: number | undefined): number | null => roundSignificant(value, resultDigits);

/** What is not known is null; coefficients are those of one module, in SI units. */
export function coefficientResult(report: CoefficientReport, version: string): CoefficientResult {
  const { module, address, own } = report;
  return {
    program: { name: 'sweepbook', version },
    schemaVersion: 1,
    module,
    address: address ?? null,
    sweeps: [...own.sweeps],
    leftOut: [...own.leftOut],
    irradiance: own.irradiance ?? null,
    cellTemperature: own.cellTemperature ?? null,
    coefficients: own.coefficients.map((each) => ({
      symbol: each.symbol,
      unit: each.unit,
      value: rounded(each.value),
      standardError: rounded(each.standardError),
      nameplate: each.nameplate
        ? { value: rounded(each.nameplate.value), declared: each.nameplate.declared }
        : null,
      sweeps: each.sweeps,
      refusal: each.refusal ?? null,
      residualsOf: each.of,
      residuals: each.residuals.map((at) => ({
        ...at,
        irradiance: rounded(at.irradiance),
        cellTemperature: rounded(at.cellTemperature),
        residual: rounded(at.residual),
      })),
    })),
  };
}
