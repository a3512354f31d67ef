/** A quantity written in another unit of its dimension, the number converted. */
import type { Campaign } from '../campaign/model.js';
import { findUnit, otherUnits } from '../campaign/units.js';
import { shiftRange, type Position, type Range } from '../text/place.js';
import { quantityAt } from './hoverText.js';
import { readableNumber } from './readableNumber.js';

export interface Conversion {
  readonly title: string;
  readonly range: Range;
  readonly text: string;
}

/** Units in which the number would need more than this many zeros before or behind its digits are left out. */
const [smallest, largest] = [0.001, 99_999];

export function conversionsAt(campaign: Campaign, file: string, position: Position): Conversion[] {
  const placed = campaign.entries.find(
    ({ block }) => block.file === file && block.startLine <= position.line && position.line <= block.endLine,
  );
  const quantity = placed && quantityAt(placed, position);
  if (!placed || !quantity || quantity.unit === '') return [];
  const range = shiftRange(quantity.range, placed.block.startLine);
  return otherUnits(quantity)
    .map(({ value, unit }) => ({ unit, number: readableNumber(value) }))
    .filter(({ unit, number }) => {
      const size = Math.abs(Number(number));
      const back = Number(number) * findUnit(unit, [quantity.dimension])!.factor;
      const isExact = Math.abs(back - quantity.value) <= 1e-12 * Math.abs(quantity.value);
      return isExact && (size === 0 || (size >= smallest && size <= largest));
    })
    .map(({ unit, number }) => ({
      title: `Convert to \`${number} ${unit}\``,
      range,
      text: `${number} ${unit}`,
    }));
}
