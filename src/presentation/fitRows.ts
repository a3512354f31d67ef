/** The section "Fitted model" of a sweep: what the measured points say of one diode, beside what the nameplate expects. */
import { diodeFitOf, type DiodeSymbol, type DiodeValue } from '../analysis/diodeFit.js';
import { judgedParameters } from '../analysis/verdict.js';
import type { EvaluatedSweep } from '../evaluation/evaluation.js';
import { formatDeviation, formatValue, significant } from './formatNumber.js';
import type { FitSection } from './previewTypes.js';
import { parameterNamesInWords, parameterSymbols, parameterUnits } from './sweepTexts.js';

const names: Readonly<Record<DiodeSymbol, string>> = {
  IL: 'Photocurrent',
  I0: 'Saturation current',
  Rs: 'Series resistance',
  Rsh: 'Shunt resistance',
  n: 'Ideality factor of a cell',
};

/** Undefined where there is no curve at all; a reason where there is one that no diode describes. */
export function fitSection(sweep: EvaluatedSweep): FitSection | undefined {
  if (!sweep.analysis.measured) return undefined;
  const result = diodeFitOf(sweep);
  if (result.kind === 'none') return { rows: [], expected: [], reason: result.reason };
  const { values, expected, measured: atTerminals, deviation, doubt } = result.fitted;
  return {
    rows: values.map(rowOf),
    expected: expected
      ? judgedParameters.map((parameter) => {
          const [found, wanted] = [atTerminals[parameter], expected[parameter]];
          return {
            symbol: parameterSymbols[parameter],
            name: parameterNamesInWords[parameter],
            measured: formatValue(found, parameterUnits[parameter]),
            expected: formatValue(wanted, parameterUnits[parameter]),
            deviation: formatDeviation(found === undefined || !wanted ? undefined : found / wanted - 1),
          };
        })
      : [],
    note: `${doubt === undefined ? '' : `${doubt} `}Standard uncertainties (k = 1) from the scatter of the points alone, ${formatValue(deviation, 'A', 2)} around the curve; those of the instruments come on top. I0 and n are strongly correlated.`,
  };
}

function rowOf({ symbol, unit, value, standardUncertainty, expected }: DiodeValue) {
  return {
    symbol,
    name: names[symbol],
    fitted: valueWithUncertainty(value, standardUncertainty, unit),
    expected: formatValue(expected, unit, 3),
  };
}

/** `0.213 ± 0.004 ohm`; a value that its uncertainty swallows is still shown, as it was found. */
export function valueWithUncertainty(value: number, uncertainty: number | undefined, unit: string): string {
  // No shunt at all: the fit keeps 1/Rsh at zero or more.
  if (!Number.isFinite(value)) return 'none found';
  if (uncertainty === undefined) return formatValue(value, unit, 3);
  // Both to the second significant digit of the uncertainty (JCGM 100:2008, 7.2.6), the value with two digits at least.
  const exponent = (of: number): number => Math.floor(Math.log10(Math.abs(of)));
  const digits = uncertainty > 0 && value !== 0 ? exponent(value) - exponent(uncertainty) + 2 : 4;
  return `${significant(value, Math.min(9, Math.max(2, digits)))} ± ${formatValue(uncertainty, unit, 2)}`;
}
