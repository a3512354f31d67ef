import {
  comparedParameters,
  type CauseMovement,
  type Movement,
  type Readings,
  type Spread,
} from './difference.js';
import type { ParameterReadings } from './snapshot.js';

/** Less is the rounding of the computation. */
const noise = 1e-9;

/** Every parameter of a sweep that is not what it was, however little it moved. */
export function movementsOf(before: ParameterReadings, after: ParameterReadings): Movement[] {
  return comparedParameters.flatMap((parameter): Movement[] => {
    const [a, b] = [before[parameter], after[parameter]];
    const change = a.value && b.value !== undefined ? b.value / a.value - 1 : undefined;
    const deviationChange = less(b.deviation, a.deviation);
    const uncertaintyChange = less(b.uncertainty, a.uncertainty);
    const farthest = Math.max(Math.abs(change ?? 0), Math.abs(deviationChange ?? 0));
    const known = [a.uncertainty, b.uncertainty].filter((each) => each !== undefined);
    const movement = { change, deviationChange, uncertaintyChange };
    const moved = Object.values(movement).some((each) => Math.abs(each ?? 0) > noise);
    if (!moved && !cameOrWent(a, b)) return [];
    const beyondUncertainty = known.length > 0 && farthest > Math.max(...known);
    return [{ parameter, before: a, after: b, ...movement, beyondUncertainty }];
  });
}

const less = (a: number | undefined, b: number | undefined): number | undefined =>
  a === undefined || b === undefined ? undefined : a - b;

const cameOrWent = (a: Readings, b: Readings): boolean =>
  (a.value === undefined) !== (b.value === undefined) ||
  (a.deviation === undefined) !== (b.deviation === undefined) ||
  (a.uncertainty === undefined) !== (b.uncertainty === undefined);

/** Is it worth telling: beyond the threshold, beyond its uncertainty, or known in one campaign alone? */
export function isTold(movement: Movement, threshold: number): boolean {
  const { change, deviationChange, uncertaintyChange, beyondUncertainty, before, after } = movement;
  const moves = [change, deviationChange, uncertaintyChange];
  return (
    beyondUncertainty || cameOrWent(before, after) || moves.some((each) => Math.abs(each ?? 0) > threshold)
  );
}

/** What movements of one parameter have in common, over several sweeps. */
export function summarised(movements: readonly Movement[]): CauseMovement[] {
  return comparedParameters.flatMap((parameter): CauseMovement[] => {
    const own = movements.filter((movement) => movement.parameter === parameter);
    if (own.length === 0) return [];
    return [
      {
        parameter,
        sweeps: own.length,
        change: spreadOf(own.flatMap(({ change }) => change ?? [])),
        deviationChange: spreadOf(own.flatMap(({ deviationChange }) => deviationChange ?? [])),
        uncertaintyChange: spreadOf(own.flatMap(({ uncertaintyChange }) => uncertaintyChange ?? [])),
      },
    ];
  });
}

/** Undefined where nothing moved. */
function spreadOf(values: readonly number[]): Spread | undefined {
  const sorted = values.filter((value) => Math.abs(value) > noise).sort((a, b) => a - b);
  if (sorted.length === 0) return undefined;
  const at = (index: number): number => sorted[index]!;
  const half = (sorted.length - 1) / 2;
  return {
    median: (at(Math.floor(half)) + at(Math.ceil(half))) / 2,
    least: at(0),
    most: at(sorted.length - 1),
  };
}
