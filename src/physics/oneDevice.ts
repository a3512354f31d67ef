/**
 * The hypothesis that all points lie on one single-diode curve, but for some wild ones. Where it holds, it tells the wild
 * points from the rest even on a steep leg and in a sparse sweep, and gives the trend for the local fits.
 */
import { fitDiode, type DiodeFit, type RoughPoints } from './diodeFit.js';
import type { Landmarks } from './landmarks.js';
import { currentAtVoltage } from './singleDiode.js';
import type { SweepPoints } from './sweepPoints.js';
import { pick, placesWhere } from './numbersOf.js';

export interface OneDevice {
  readonly trend: DiodeFit;
  /** The points with those marked wild that the trend sets aside. */
  readonly points: SweepPoints;
  /** Index into `points` of each row of the trend's residuals. */
  readonly rows: readonly number[];
}

/** How far the scatter around a trend may exceed the noise from point to point, A. */
export function scatterLimit({ noise, voltage }: SweepPoints, isc: number): number {
  // Both estimates of the noise scatter, the more so the fewer the points: that of 25 points may be a quarter of the noise.
  const { length } = voltage;
  return Math.max(1.7 * (1 + 25 / length) * noise, 8e-4 * (1 + 50 / length) * isc);
}

/** Undefined where the points do not bear the hypothesis out: too much scatter, or too many points off the curve. */
export function asOneDevice(points: SweepPoints, landmarks: Landmarks): OneDevice | undefined {
  const { voltage, current, wild } = points;
  const rows = rowsOf(points, landmarks, (k) => !wild[k]);
  const trend = fitDiode(pick(voltage, rows), pick(current, rows), landmarks);
  if (!trend) return undefined;
  const isOne = describes(trend, points, rows, landmarks.isc);
  const far = isOne ? farRows(trend, rows, landmarks.isc) : [];
  const suspects = placesWhere(wild.length, (k) => wild[k] === 1 || far.includes(k));
  if (isOne && suspects.length === 0) return { trend, points, rows };
  const likeliest = likeliestWild(points, landmarks, suspects);
  if (likeliest)
    return setAside(
      points,
      rowsOf(points, landmarks, () => true),
      likeliest,
      landmarks,
    );
  if (!isOne) return undefined;
  return far.length === 0 ? { trend, points, rows } : setAside(points, rows, far, landmarks);
}

function rowsOf(
  { voltage, smooth }: SweepPoints,
  { voc, isc }: Landmarks,
  isUsed: (k: number) => boolean,
): number[] {
  return placesWhere(
    voltage.length,
    (k) => isUsed(k) && voltage[k]! > -0.25 * voc && smooth[k]! > -0.5 * isc,
  );
}

/** Is the scatter that of the noise, and are the points off the curve few and apart from each other? */
export function describes(
  trend: DiodeFit,
  points: SweepPoints,
  rows: readonly number[],
  isc: number,
): boolean {
  if (trend.deviation > scatterLimit(points, isc)) return false;
  const far = farRows(trend, rows, isc);
  return far.length <= Math.max(2, 0.1 * rows.length) && longestRun(far) <= 1;
}

function farRows(trend: DiodeFit, rows: readonly number[], isc: number): number[] {
  const limit = 6 * trend.deviation + 1e-3 * isc;
  return rows.filter((_, row) => Math.abs(trend.residuals[row]!) > limit);
}

/** The hypothesis with some points left out. */
function setAside(
  points: SweepPoints,
  rows: readonly number[],
  far: readonly number[],
  landmarks: Landmarks,
): OneDevice | undefined {
  const kept = rows.filter((k) => !far.includes(k));
  const rough = roughOf(points, kept, landmarks);
  const trend = fitDiode(pick(points.voltage, kept), pick(points.current, kept), rough);
  if (!trend) return undefined;
  const marked = {
    ...points,
    smooth: Float64Array.from(points.smooth),
    wild: Uint8Array.from(points.wild),
  };
  for (const k of rows) {
    marked.wild[k] = 0;
    marked.smooth[k] = points.wild[k] ? points.current[k]! : points.smooth[k]!;
  }
  for (const k of far) {
    marked.wild[k] = 1;
    marked.smooth[k] = currentAtVoltage(trend.model, points.voltage[k]!);
  }
  return { trend, points: marked, rows: kept };
}

/** Sweeps up to so many points are searched for wild points one by one. */
const sparse = 64;

/** No more wild points than this are looked for in a sparse sweep. */
const mostWild = 3;

/**
 * In a sparse sweep a wild point on the knee bends the curve so far to itself that its residual no longer stands out, and good
 * neighbours do instead. So sets of wild points are compared by their likelihood: from none, and from the points that stand out,
 * a point is dropped or taken back as long as that makes all points likelier. Undefined where no set leaves one curve.
 */
function likeliestWild(
  points: SweepPoints,
  landmarks: Landmarks,
  suspects: readonly number[],
): number[] | undefined {
  const rows = rowsOf(points, landmarks, () => true);
  if (rows.length > sparse) return undefined;
  const known = new Map<string, Hypothesis>();
  const judge = (wild: readonly number[]): Hypothesis => {
    const key = [...wild].sort((a, b) => a - b).join();
    let hypothesis = known.get(key);
    if (!hypothesis) known.set(key, (hypothesis = hypothesisOf(points, landmarks, rows, wild)));
    return hypothesis;
  };
  const limit = scatterLimit(points, landmarks.isc);
  const isSound = ({ wild, scatter }: Hypothesis): boolean =>
    wild.length <= mostWild && scatter <= limit && standApart(points, wild, rows);
  const likeliest = (starts: readonly (readonly number[])[]): Hypothesis =>
    starts.map((start) => improved(judge(start), judge)).reduce(likelier);
  let best = likeliest([[], suspects.filter((k) => rows.includes(k))]);
  // Two wild points can hide each other.
  if (!isSound(best)) {
    const pairs = pairsOf(farthestRising(points, rows));
    best = pairs.map(judge).reduce(likelier, best);
  }
  return isSound(best) ? [...best.wild] : undefined;
}

const pairsOf = (rows: readonly number[]): number[][] =>
  rows.flatMap((first, at) => rows.slice(at + 1).map((second) => [first, second]));

const likelier = (one: Hypothesis, other: Hypothesis): Hypothesis => (other.cost < one.cost ? other : one);

interface Hypothesis {
  readonly wild: readonly number[];
  /** Root of the mean square of the others around their curve, A. */
  readonly scatter: number;
  /** The points that lie farthest from it. */
  readonly largest: readonly number[];
  /** Minus the logarithm of the likelihood: normal noise of the others, and wild points anywhere between -Isc and Isc. */
  readonly cost: number;
}

/** What a wild point costs beside the logarithm of Isc over the noise, so that the tail of the noise is not dropped. */
const costOfWild = 2.5;

function hypothesisOf(
  points: SweepPoints,
  landmarks: Landmarks,
  rows: readonly number[],
  wild: readonly number[],
): Hypothesis {
  const { voltage, current } = points;
  const kept = rows.filter((k) => !wild.includes(k));
  const fit =
    kept.length > 8
      ? fitDiode(pick(voltage, kept), pick(current, kept), roughOf(points, kept, landmarks), {
          robust: false,
          rounds: 15,
        })
      : undefined;
  if (!fit) return { wild, scatter: Infinity, largest: kept, cost: Infinity };
  const squares = fit.residuals.reduce((sum, residual) => sum + residual ** 2, 0);
  // A scatter below that of any instrument would reward what is chance.
  const scatter = Math.sqrt(squares / (kept.length - 5));
  const counted = Math.max(scatter, 3e-4 * landmarks.isc);
  return {
    wild,
    scatter,
    largest: largestOf(fit.residuals, kept),
    cost: kept.length * Math.log(counted / landmarks.isc) + costOfWild * wild.length,
  };
}

/** A wild point bends the curve to itself, but is still among so many of the farthest. */
const candidates = 12;

function largestOf(residuals: Float64Array, kept: readonly number[]): number[] {
  const order = [...kept.keys()].sort((a, b) => Math.abs(residuals[b]!) - Math.abs(residuals[a]!));
  return order.slice(0, candidates).map((row) => kept[row]!);
}

/** The maximum among the points that count, since a wild point may have passed for it. */
function roughOf(
  { voltage, current }: SweepPoints,
  kept: readonly number[],
  { isc, voc }: Landmarks,
): RoughPoints {
  const power = (k: number): number => voltage[k]! * current[k]!;
  const at = kept.reduce((best, k) => (power(k) > power(best) ? k : best), kept[0]!);
  return { isc: Math.max(isc, current[at]! * 1.01), voc, imp: current[at]!, vmp: voltage[at]! };
}

function improved(start: Hypothesis, judge: (wild: readonly number[]) => Hypothesis): Hypothesis {
  let best = start;
  for (let round = 0; round < 2 * mostWild; round++) {
    const { wild } = best;
    const neighbours = [
      ...wild.map((k) => wild.filter((other) => other !== k)),
      ...(wild.length < mostWild ? best.largest.map((k) => [...wild, k]) : []),
    ].map(judge);
    const next = neighbours.reduce(likelier, best);
    if (next === best) break;
    best = next;
  }
  return best;
}

/**
 * A step is a fall of the current that does not rise again. So two wild points next to or near each other must break the fall; one
 * that stands alone need not.
 */
function standApart(points: SweepPoints, wild: readonly number[], rows: readonly number[]): boolean {
  const places = wild.map((k) => rows.indexOf(k)).sort((a, b) => a - b);
  const isNear = (one: number, other: number | undefined) =>
    other !== undefined && Math.abs(other - one) <= 2;
  return places.every(
    (place, index) =>
      rises(points, rows, place) || !(isNear(place, places[index - 1]) || isNear(place, places[index + 1])),
  );
}

/** A wild point makes two rows rise; with more than this, no few wild points explain them, and pairs would be many. */
const mostRising = 4 * mostWild;

function farthestRising(points: SweepPoints, rows: readonly number[]): number[] {
  const rising = [...rows.keys()].filter((place) => rises(points, rows, place));
  if (rising.length > mostRising)
    rising.sort((a, b) => riseAt(points, rows, b) - riseAt(points, rows, a)).length = mostRising;
  return rising.map((place) => rows[place]!);
}

/** Does the current rise towards a point, or behind it, by far more than the noise? */
const rises = (points: SweepPoints, rows: readonly number[], place: number): boolean =>
  riseAt(points, rows, place) > 6 * points.noise;

/** By how much the current rises towards a point or behind it, A; the larger of the two. */
function riseAt({ current }: SweepPoints, rows: readonly number[], place: number): number {
  const at = current[rows[place]!]!;
  const [before, after] = [rows[place - 1], rows[place + 1]];
  return Math.max(
    before === undefined ? -Infinity : at - current[before]!,
    after === undefined ? -Infinity : current[after]! - at,
  );
}

function longestRun(indices: readonly number[]): number {
  let longest = 0;
  let run = 0;
  indices.forEach((k, at) => {
    run = at > 0 && indices[at - 1] === k - 1 ? run + 1 : 1;
    longest = Math.max(longest, run);
  });
  return longest;
}
