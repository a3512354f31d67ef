import type { Quantity } from './quantity.js';

/**
 * A temperature coefficient in absolute units (A/K, V/K, W/K). One written relative to its parameter (`%/K`) is
 * multiplied by the nameplate value of that parameter at STC (IEC 60891); undefined while that value is absent.
 */
export function coefficient(
  written: Quantity | undefined,
  parameter: Quantity | undefined,
): number | undefined {
  if (written?.dimension !== 'fractionPerKelvin') return written?.value;
  return parameter && written.value * parameter.value;
}

/** The same coefficient as a fraction of its parameter per kelvin. */
export function relativeCoefficient(
  written: Quantity | undefined,
  parameter: Quantity | undefined,
): number | undefined {
  if (!written || written.dimension === 'fractionPerKelvin') return written?.value;
  return parameter && written.value / parameter.value;
}
