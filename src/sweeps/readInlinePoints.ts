import type { InlinePoints } from '../campaign/model.js';
import { finishSweep } from './finishSweep.js';
import type { ReadingResult } from './sweepReading.js';
import { noPoints } from './sweepPoints.js';

/**
 * One sweep from points written in the campaign itself, in V and A, in either order and with either sign of current.
 * Lines in the result count from 1 at the first line of the block.
 */
export function readInlinePoints(inline: InlinePoints): ReadingResult {
  const points = noPoints();
  const count = Math.min(inline.voltage.length, inline.current.length);
  for (let at = 0; at < count; at++) {
    const [voltage, current] = [inline.voltage[at]!, inline.current[at]!];
    const line = (inline.lines[at] ?? inline.range.start.line) + 1;
    if (Number.isFinite(voltage) && Number.isFinite(current)) {
      points.voltage.push(voltage);
      points.current.push(current);
      points.lines.push(line);
    } else {
      points.skippedRows++;
      points.firstSkipped ??= { line, what: 'not a number' };
    }
  }
  return finishSweep(points, { columnsGiven: true });
}
