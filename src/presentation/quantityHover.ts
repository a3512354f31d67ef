import { standardUncertainty, type Quantity } from '../campaign/quantity.js';
import { dimensionNames, otherUnits } from '../campaign/units.js';
import { formatPercent, significant } from './formatNumber.js';
import { escapeMarkdown, strongMarkdown } from './markdownText.js';
import { quantityText } from './sweepTexts.js';

/** Canonical unit of a standard uncertainty, which of a temperature is a difference. */
const unitOfUncertainty: Partial<Record<Quantity['dimension'], string>> = { temperature: 'K' };

/** A quantity as written, in the other units of its dimension, and its standard uncertainty. */
export function quantityMarkdown(quantity: Quantity): string {
  const kind = dimensionNames[quantity.dimension].replace(/^an? /, '');
  const lines = [`${strongMarkdown(quantityText(quantity))} (${kind})`];
  const others = otherUnits(quantity).map(
    ({ value, unit }) =>
      `= ${significant(value, 6)
        .replace(/(\.\d*?)0+$/, '$1')
        .replace(/\.$/, '')} ${escapeMarkdown(unit)}`,
  );
  if (others.length > 0) lines.push(others.join('  \n'));
  const standard = uncertaintyText(quantity);
  if (standard !== undefined) lines.push(standard);
  return lines.join('\n\n');
}

function uncertaintyText(quantity: Quantity): string | undefined {
  const standard = standardUncertainty(quantity);
  if (standard === undefined) return undefined;
  const { uncertainty } = quantity;
  // Written in the unit of the quantity, not in the canonical one.
  const scale =
    quantity.value === 0 || quantity.writtenValue === 0 ? 1 : quantity.writtenValue / quantity.value;
  const unit = unitOfUncertainty[quantity.dimension] ?? quantity.unit;
  const relative =
    quantity.value === 0 || quantity.dimension === 'temperature'
      ? ''
      : ` (${escapeMarkdown(formatPercent(standard / Math.abs(quantity.value)))})`;
  const written = uncertainty!.coverageFactor === 1 ? 'k = 1' : `k = ${uncertainty!.coverageFactor}`;
  const text =
    quantity.dimension === 'temperature' ? significant(standard, 2) : significant(standard * scale, 2);
  return `Standard uncertainty u = ${text} ${escapeMarkdown(unit)}${relative}; written expanded with ${written}.`;
}
