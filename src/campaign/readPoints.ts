/** The rows under a `points` line: voltage and current in the units that line gives. */
import type { Line } from '../syntax/token.js';
import type { Problem } from '../text/problem.js';
import { rangeOnLine } from '../text/place.js';
import type { PointUnits } from './decodeValue.js';
import type { InlinePoints } from './model.js';
import { readNumber } from './readQuantity.js';
import { ValueReader } from './valueReader.js';

/** No keyword starts like a number, so a row is told from a property by its first character. */
export function isPointRow(line: Line): boolean {
  return (
    /^[+\-\u2212.]*\d|^(nan|inf)/i.test(line.tokens[0]?.text ?? '') || line.tokens[0]?.kind === 'plusMinus'
  );
}

export function readPoints(
  header: Line,
  rows: readonly Line[],
  units: PointUnits,
  problems: Problem[],
): InlinePoints {
  const voltage: number[] = [];
  const current: number[] = [];
  const lines: number[] = [];
  for (const row of rows) {
    const point = readRow(new ValueReader(row, problems));
    if (!point) continue;
    voltage.push(point[0] * units.voltage);
    current.push(point[1] * units.current);
    lines.push(row.number);
  }
  const last = rows.at(-1) ?? header;
  const start = { line: header.number, character: header.tokens[0]!.start };
  return {
    voltage,
    current,
    lines,
    range: { start, end: rangeOnLine(last.number, 0, last.text.length).end },
  };
}

function readRow(reader: ValueReader): readonly [number, number] | undefined {
  const what = 'a row has the voltage and the current, as numbers';
  const voltage = readNumber(reader, what);
  if (!voltage) return undefined;
  if (voltage.rest === '') reader.takeKind('comma');
  const current = readNumber(reader, what);
  if (!current) return undefined;
  for (const number of [voltage, current])
    if (number.rest !== '')
      return reader.fail(
        'value/not-a-number',
        reader.range(number.token),
        `\`${number.token.text.slice(0, 40)}\` is not a number: ${what}; the units stand on the \`points\` line.`,
      );
  reader.finish('A row has the voltage and the current.');
  return reader.failed ? undefined : [voltage.value, current.value];
}
