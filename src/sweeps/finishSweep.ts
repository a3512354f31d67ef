/**
 * From points to a reading: sign, order, and the checks that hold for any sweep wherever its points stood. An error
 * means there is no reading; a warning comes beside one.
 */
import { checkCoverage, checkMagnitudes, looksSwapped } from './plausibility.js';
import { brief, counted, error, information, layoutAdvice, warning } from './readingProblems.js';
import type { ReadingProblem, ReadingResult, SweepReading } from './sweepReading.js';
import { extent, type OrderedPoints, type SweepPoints } from './sweepPoints.js';
import { checkTwoPasses } from './twoPasses.js';
import { pick } from '../physics/numbersOf.js';

/** Fewer usable points than this are no sweep. */
export const leastPoints = 10;

export interface FinishOptions {
  /** As a layout says. */
  readonly sign?: 'positive' | 'negative';
  /** A layout names both columns. */
  readonly columnsGiven?: boolean;
  /** No header told voltage from current: put them right instead of complaining. */
  readonly guessed?: boolean;
}

export function finishSweep(points: SweepPoints, options: FinishOptions = {}): ReadingResult {
  const { voltage, lines } = points;
  const count = voltage.length;
  if (count < leastPoints) return { problems: [tooFew(points)] };
  const problems = skippedProblems(points);
  const fail = (id: string, message: string): ReadingResult => ({
    problems: [...problems, error(id, message, { line: lines[0]! })],
  });
  const spread = extent(voltage);
  const size = Math.max(Math.abs(spread.least), Math.abs(spread.most));
  if (spread.most - spread.least <= size * 1e-3) {
    return fail(
      'voltage-constant',
      `The voltage stays at ${brief(spread.most)} V over all ${count} points; a sweep runs from short circuit to open circuit.`,
    );
  }
  const currents = extent(points.current);
  if (Math.max(Math.abs(currents.least), Math.abs(currents.most)) <= 1e-6) {
    return fail(
      'current-zero',
      `All ${count} currents are zero; was the string connected, its fuse in and its switch closed?`,
    );
  }
  if (-spread.least > spread.most && countNegative(voltage) > count / 2) {
    return fail(
      'voltage-negative',
      'Most voltages are negative, as with exchanged leads; correct the polarity in the data before a verdict can stand on it.',
    );
  }
  const ordered = inOrder(points);
  if (isDark(ordered)) {
    return fail(
      'dark-curve',
      'The current grows from nearly nothing with the voltage, as it does through a string in the dark under forward bias: nothing was generated. A sweep is taken in light, from short circuit to open circuit.',
    );
  }
  const evident = meanStartCurrent(ordered) < 0;
  const turned = options.sign ? options.sign === 'negative' : evident;
  if (turned !== evident) {
    return fail(
      'sign-contradiction',
      `The layout says that generated current is ${options.sign}, but the currents at low voltage are ${evident ? 'negative' : 'positive'}; correct \`sign\` in the layout or leave it out.`,
    );
  }
  if (turned) for (let at = 0; at < count; at++) ordered.current[at] = 0 - ordered.current[at]!;
  if (looksSwapped(ordered)) {
    if (options.guessed) return swappedBack(points, options, problems);
    const place = { line: lines[0]! };
    const seen = swappedMessage(ordered);
    if (!options.columnsGiven)
      return { problems: [...problems, error('swapped-columns', `${seen} ${layoutAdvice}`, place)] };
    problems.push(warning('swapped-columns', `${seen} The layout is followed.`, place));
  }
  if (turned && !options.sign) {
    const message = 'Generated current stands in the table with a minus sign; the sign was turned.';
    problems.push(information('sign-turned', message, { line: lines[0]! }));
  }
  problems.push(...checkMagnitudes(ordered), ...checkCoverage(ordered), ...checkTwoPasses(points));
  return { reading: reading(points, ordered, turned), problems };
}

function countNegative(values: readonly number[]): number {
  let count = 0;
  for (const value of values) if (value < 0) count++;
  return count;
}

function tooFew(points: SweepPoints): ReadingProblem {
  const { voltage, lines, skippedRows, firstSkipped } = points;
  const found =
    voltage.length === 0
      ? 'There are no usable points'
      : `Only ${counted(voltage.length, 'usable point')} found`;
  const skipped = firstSkipped
    ? ` ${counted(skippedRows, 'row')} skipped, first at line ${firstSkipped.line}: ${firstSkipped.what}.`
    : '';
  const place = firstSkipped ?? (lines.length > 0 ? { line: lines[0]! } : undefined);
  return error(
    'too-few-points',
    `${found}; a sweep needs at least ${leastPoints}.${skipped}`,
    place && { line: place.line, column: 'column' in place ? place.column : undefined },
  );
}

function skippedProblems(points: SweepPoints): ReadingProblem[] {
  const { skippedRows, raggedRows, firstSkipped } = points;
  if (!firstSkipped) return [];
  const ragged = raggedRows > 0 ? ` (${raggedRows} of them with too many fields)` : '';
  const message = `${counted(skippedRows, 'row')} skipped${ragged}, first at line ${firstSkipped.line}: ${firstSkipped.what}.`;
  return [warning('rows-skipped', message, { line: firstSkipped.line, column: firstSkipped.column })];
}

/** Stable in the direction of the sweep, so that points of equal voltage keep their order along the curve. */
function inOrder(points: SweepPoints): OrderedPoints {
  const { voltage, current, lines } = points;
  const count = voltage.length;
  if (isAscending(voltage)) {
    return {
      voltage: Float64Array.from(voltage),
      current: Float64Array.from(current),
      lines: Int32Array.from(lines),
    };
  }
  const descending = directionOf(voltage) === 'voc-to-isc';
  const order = Int32Array.from({ length: count }, (_, at) => (descending ? count - 1 - at : at));
  order.sort((one, other) => voltage[one]! - voltage[other]! || (descending ? other - one : one - other));
  const picked = pick(voltage, order);
  const currents = pick(current, order);
  return { voltage: picked, current: currents, lines: Int32Array.from(order, (at) => lines[at]!), order };
}

function isAscending(values: readonly number[]): boolean {
  for (let at = 1; at < values.length; at++) if (values[at]! < values[at - 1]!) return false;
  return true;
}

/** By the way gone up and down: up to a twentieth in the other direction is noise. */
function directionOf(voltage: readonly number[]): SweepReading['direction'] {
  let up = 0;
  let down = 0;
  for (let at = 1; at < voltage.length; at++) {
    const step = voltage[at]! - voltage[at - 1]!;
    if (step > 0) up += step;
    else down -= step;
  }
  if (down <= 0.05 * (up + down)) return 'isc-to-voc';
  return up <= 0.05 * (up + down) ? 'voc-to-isc' : 'mixed';
}

/**
 * In the dark a string carries next to nothing up to half its voltage and most at the end; in light it carries most at the
 * beginning. Shares of the largest current: own choice, between the two and a resistor, which carries half at half.
 */
function isDark({ voltage, current }: OrderedPoints): boolean {
  const top = voltage[voltage.length - 1]!;
  let most = 0;
  let mostAt = 0;
  let early = 0;
  for (let at = 0; at < current.length; at++) {
    const size = Math.abs(current[at]!);
    if (size > most) [most, mostAt] = [size, voltage[at]!];
    if (voltage[at]! <= 0.5 * top || at === 0) early = Math.max(early, size);
  }
  return top > 0 && mostAt > 0.9 * top && early < 0.1 * most;
}

/** Mean current over the lowest quarter of the points, where a generator delivers nearly its short-circuit current. */
function meanStartCurrent(points: OrderedPoints): number {
  const quarter = Math.max(3, Math.floor(points.current.length / 4));
  let sum = 0;
  for (let at = 0; at < quarter; at++) sum += points.current[at]!;
  return sum / quarter;
}

function swappedMessage(points: OrderedPoints): string {
  const { most } = extent(Array.from(points.current));
  const reach = points.voltage[points.voltage.length - 1]!;
  return `Voltage and current look exchanged: the column read as voltage reaches only ${brief(reach)}, the one read as current ${brief(most)}, and the curve bends as a current would against voltage.`;
}

function swappedBack(
  points: SweepPoints,
  options: FinishOptions,
  before: readonly ReadingProblem[],
): ReadingResult {
  const exchanged = { ...points, voltage: points.current, current: points.voltage };
  const result = finishSweep(exchanged, { ...options, guessed: false, columnsGiven: true });
  const message =
    'There is no header; by the shape of the curve the first column is the current and the second the voltage.';
  const note = information('columns-exchanged', message, { line: points.lines[0]! });
  return {
    reading: result.reading,
    problems: [note, ...result.problems.filter((problem) => !before.includes(problem))],
  };
}

function reading(points: SweepPoints, ordered: OrderedPoints, signTurned: boolean): SweepReading {
  const { voltage, current, lines, order } = ordered;
  const count = voltage.length;
  let repeatedVoltages = 0;
  let widest = 0;
  for (let at = 1; at < count; at++) {
    const step = voltage[at]! - voltage[at - 1]!;
    if (step === 0) repeatedVoltages++;
    if (step > widest) widest = step;
  }
  const along = (values: readonly number[]) =>
    values.some((value) => !Number.isNaN(value))
      ? order
        ? pick(values, order)
        : Float64Array.from(values)
      : undefined;
  return {
    curve: { voltage, current },
    irradiance: along(points.irradiance),
    temperature: along(points.temperature),
    lines,
    skippedRows: points.skippedRows,
    direction: directionOf(points.voltage),
    signTurned,
    repeatedVoltages,
    largestStep: widest / (voltage[count - 1]! - voltage[0]!),
  };
}
