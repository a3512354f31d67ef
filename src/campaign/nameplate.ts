/** Does a nameplate hang together? What does not is a slip of the pen more often than a strange module. */
import type { Range } from '../text/place.js';
import type { Problem } from '../text/problem.js';
import { relativeCoefficient } from './coefficients.js';
import type { ModuleRecord } from './model.js';
import { problem } from './valueReader.js';

/** One problem at most for each of: the four points, each coefficient, the cells. */
export function checkNameplate(module: ModuleRecord): Problem[] {
  return [
    checkPoints(module),
    ...checkCoefficients(module),
    checkSubstrings(module),
    checkVoltagePerCell(module),
  ].filter((each) => each !== undefined);
}

function at(module: ModuleRecord, property: string): Range {
  return module.propertyRanges.get(property) ?? module.headerRange;
}

/** Imp is below Isc and Vmp below Voc by what they are; Pmax is their product (IEC TS 61836). */
function checkPoints(module: ModuleRecord): Problem | undefined {
  const { pmax, isc, voc, imp, vmp } = module;
  if (imp && isc && imp.value >= isc.value)
    return problem(
      'nameplate/imp-above-isc',
      'error',
      at(module, 'Imp'),
      'Imp is below Isc on every module. Are the two exchanged?',
    );
  if (vmp && voc && vmp.value >= voc.value)
    return problem(
      'nameplate/vmp-above-voc',
      'error',
      at(module, 'Vmp'),
      'Vmp is below Voc on every module. Are the two exchanged?',
    );
  if (!pmax || !imp || !vmp) return undefined;
  const product = imp.value * vmp.value;
  const deviation = pmax.value / product - 1;
  // Rounded nameplates differ by less than 2 % (common practice, no source).
  if (Math.abs(deviation) <= 0.02) return undefined;
  const message = `Pmax is ${pmax.value.toPrecision(4)} W, but Imp times Vmp is ${product.toPrecision(4)} W (${(deviation * 100).toFixed(1)} %). One of the three is not as on the label.`;
  return problem('nameplate/pmax-differs', 'warning', at(module, 'Pmax'), message);
}

/**
 * Signs follow from the physics of a junction; the bounds lie far outside what 19,000 listed modules have (Isc 0 to
 * 0.12 %/K, Voc -0.41 to -0.17 %/K, Pmax -0.53 to -0.17 %/K; 5 to 95 % of the CEC module list of 2017).
 */
function checkCoefficients(module: ModuleRecord): (Problem | undefined)[] {
  const alpha = relativeCoefficient(module.alphaWritten, module.isc);
  return [
    checkRising(module, alpha),
    checkFalling(module, 'beta', 'Voc', relativeCoefficient(module.betaWritten, module.voc), 0.006),
    checkFalling(module, 'gamma', 'Pmax', relativeCoefficient(module.gammaWritten, module.pmax), 0.01),
  ];
}

function checkRising(module: ModuleRecord, alpha: number | undefined): Problem | undefined {
  if (alpha === undefined) return undefined;
  if (Math.abs(alpha) > 0.003) {
    const message = `alpha is ${percent(alpha)}; Isc changes by less than 0.3 %/K on any known module. Is the unit right?`;
    return problem('nameplate/alpha-large', 'warning', at(module, 'alpha'), message);
  }
  if (alpha < -0.001) {
    const message = `alpha is ${percent(alpha)}, but Isc rises as the module warms. Are alpha and beta exchanged?`;
    return problem('nameplate/alpha-negative', 'error', at(module, 'alpha'), message);
  }
  if (alpha < -0.0002) {
    const message = `alpha is ${percent(alpha)}, but Isc rises with temperature on nearly every module. Is there a minus too many?`;
    return problem('nameplate/alpha-below-zero', 'warning', at(module, 'alpha'), message);
  }
  return undefined;
}

function checkFalling(
  module: ModuleRecord,
  name: string,
  parameter: string,
  value: number | undefined,
  most: number,
): Problem | undefined {
  if (value === undefined) return undefined;
  const range = at(module, name);
  if (value >= 0) {
    const message = `${parameter} falls as the module warms: ${name} is negative.`;
    return problem(`nameplate/${name}-positive`, 'error', range, message);
  }
  if (value < -most) {
    const message = `${name} is ${percent(value)}; ${parameter} falls by less than ${100 * most} %/K on any known module. Is the unit right?`;
    return problem(`nameplate/${name}-large`, 'warning', range, message);
  }
  if (value > -0.0005) {
    const message = `${name} is ${percent(value)}, which is smaller than on any known module. Is it a fraction written with a percent sign?`;
    return problem(`nameplate/${name}-small`, 'warning', range, message);
  }
  return undefined;
}

function percent(value: number): string {
  return `${Number((value * 100).toPrecision(3))} %/K`;
}

function checkSubstrings(module: ModuleRecord): Problem | undefined {
  const { cells, substrings } = module;
  if (!cells || !substrings || cells % substrings === 0) return undefined;
  const message = `${cells} cells do not divide into ${substrings} equal substrings.`;
  return problem('nameplate/substrings', 'warning', at(module, 'substrings'), message);
}

/** Crystalline silicon with its cells counted: temperature coefficients can be estimated. */
export function isCrystallineWithCells({ technology, cells }: ModuleRecord): boolean {
  return cells !== undefined && isCrystalline(technology);
}

const isCrystalline = (technology: ModuleRecord['technology']): boolean =>
  technology === 'mono-Si' || technology === 'multi-Si' || technology === 'HJT';

/** A silicon cell gives 0.5 to 0.8 V in open circuit at STC (common practice, no source). */
function checkVoltagePerCell(module: ModuleRecord): Problem | undefined {
  const { cells, voc, vmp, technology } = module;
  if (!isCrystalline(technology) || !cells || !voc || (vmp && vmp.value >= voc.value)) return undefined;
  const each = voc.value / cells;
  if (each >= 0.5 && each <= 0.8) return undefined;
  const half = each < 0.5 && each * 2 >= 0.5 && each * 2 <= 0.8;
  const advice = half
    ? 'A half-cut module with two paths in parallel declares the cells of one path.'
    : 'Is the number of cells in series right?';
  const message = `Voc is ${each.toFixed(2)} V per cell; a silicon cell has 0.5 to 0.8 V. ${advice}`;
  return problem('nameplate/voltage-per-cell', 'warning', at(module, 'cells'), message);
}
