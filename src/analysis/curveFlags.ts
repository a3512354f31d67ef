/** What the extraction of parameters found, in words. */
import type { CurveFinding } from '../physics/curveParameters.js';

export interface CurveFlag {
  readonly code: string;
  readonly text: string;
  /** A parameter was lost by it, so that a verdict may not be had. */
  readonly lost: boolean;
}

export function curveFlags(findings: readonly CurveFinding[]): CurveFlag[] {
  return findings.map(flagOf);
}

function flagOf(finding: CurveFinding): CurveFlag {
  const flag = (text: string, lost = false): CurveFlag => ({ code: finding.code, text, lost });
  switch (finding.code) {
    case 'voc-extrapolated':
      return flag(`Voc was extrapolated ${finding.by.toPrecision(2)} V beyond the last point.`);
    case 'voc-refused':
      return flag(
        `The sweep stops at ${finding.lastCurrent.toPrecision(3)} A, more than half of Isc, so Voc and FF are not told.`,
        true,
      );
    case 'isc-extrapolated':
      return flag(`Isc was extrapolated ${finding.by.toPrecision(2)} V below the first point.`);
    case 'isc-refused':
      return flag(
        `The sweep begins at ${finding.firstVoltage.toPrecision(3)} V, too far from V = 0, so Isc is not told.`,
        true,
      );
    case 'stops-before-maximum':
      return flag(
        `The sweep stops at ${finding.lastVoltage.toPrecision(3)} V, before or too near the maximum power point; it must go on to Voc.`,
        true,
      );
    case 'starts-after-maximum':
      return flag(
        `The sweep begins at ${finding.firstVoltage.toPrecision(3)} V, beyond the maximum power point; it must begin near V = 0.`,
        true,
      );
    case 'outliers-set-aside':
      return flag(
        `${finding.count} ${finding.count === 1 ? 'point lies' : 'points lie'} far from the curve and no fit used ${finding.count === 1 ? 'it' : 'them'}.`,
      );
    case 'few-points-around-maximum':
      return flag(`Only ${finding.count} points lie around the maximum power point.`);
    case 'too-few-points':
      return flag(`The sweep has only ${finding.count} different voltages.`, true);
    case 'no-variation':
      return flag('Voltage or current is the same throughout, or no point generates power.', true);
    case 'several-maxima':
      return flag(
        `The curve has steps and ${finding.count} local maxima of power; Pmax is the largest. Bypass diodes conduct: shading or a damaged substring.`,
      );
  }
}
