/** Which sweeps of a string are explained, and which sweeps of its parts still speak of the modules that stood in it then. */
import type { ReplaceRecord } from '../campaign/model.js';
import { momentOf } from '../campaign/time.js';
import { parseAddress } from '../campaign/names.js';
import type { CheckedSweep } from '../checks/check.js';
import type { CompositionInput } from './composition.js';
import { measuredPart, modulesOf, type MeasuredPart } from './seriesParts.js';

export const isFailing = ({ analysis: { verdict } }: CheckedSweep): boolean =>
  verdict === 'fail' || verdict === 'conditional fail';

const isWhole = ({ address }: CheckedSweep): boolean => !address.includes('/');

/** The latest failing sweep of the whole string, else the one that opened its case. */
export function openingOf({ sweeps, case: known }: CompositionInput): CheckedSweep | undefined {
  const failing = sweeps.filter((sweep) => isWhole(sweep) && isFailing(sweep)).sort(inTime);
  return failing.at(-1) ?? known?.openedBy;
}

const inTime = (a: CheckedSweep, b: CheckedSweep): number => {
  const [x, y] = [momentOf(a), momentOf(b)];
  return x === y ? 0 : x - y;
};

/** Light may differ by this factor at most between a part and its string: own choice; translations from farther are coarse. */
const mostLight = 1.6;

/**
 * The parts to compose: single modules first, then the shortest sections none of whose modules are taken already. Of repeated
 * sweeps the latest that was judged; none from before or after a replacement at its positions.
 */
export function partsOf({ sweeps, replacements }: CompositionInput, opening: CheckedSweep): MeasuredPart[] {
  const candidates = sweeps.flatMap((sweep) => {
    const range = isWhole(sweep) ? undefined : positionsOf(sweep.address);
    if (!range || !isUsable(sweep, opening)) return [];
    const positions = Array.from({ length: range.last - range.first + 1 }, (_, index) => range.first + index);
    const moved = positions.some(
      (position) =>
        replacedBefore(replacements, position, sweep) !== replacedBefore(replacements, position, opening),
    );
    return moved ? [] : [measuredPart(sweep, range.first, range.last)];
  });
  const judged = (part: MeasuredPart): number => (part.sweep.analysis.verdict === 'not judged' ? 1 : 0);
  candidates.sort((a, b) => modulesOf(a) - modulesOf(b) || judged(a) - judged(b) || inTime(b.sweep, a.sweep));
  const taken = new Set<number>();
  const parts = candidates.filter((part) => {
    const positions = Array.from({ length: modulesOf(part) }, (_, index) => part.first + index);
    if (positions.some((position) => taken.has(position))) return false;
    for (const position of positions) taken.add(position);
    return true;
  });
  return parts.sort((a, b) => a.first - b.first);
}

function positionsOf(address: string): { first: number; last: number } | undefined {
  const parsed = parseAddress(address);
  if (!('string' in parsed) || parsed.first === undefined) return undefined;
  return { first: parsed.first, last: parsed.last ?? parsed.first };
}

function isUsable({ analysis, reading, target }: CheckedSweep, opening: CheckedSweep): boolean {
  const light = analysis.conditions.irradiance;
  if (analysis.verdict === 'void' || !reading || light === undefined || target.seriesModules === undefined)
    return false;
  const ratio = light / opening.analysis.conditions.irradiance!;
  return ratio > 1 / mostLight && ratio < mostLight && analysis.measured?.parameters.isc !== undefined;
}

/** How often the module at a position was replaced before a sweep. Both times are local ones of the site. */
function replacedBefore(
  replacements: readonly ReplaceRecord[],
  position: number,
  { time = '' }: CheckedSweep,
): number {
  return replacements.filter(({ address: { first, last = first }, time: at }) => {
    const covers = first !== undefined && position >= first && position <= last!;
    return covers && at !== undefined && at.iso <= time.slice(0, 19);
  }).length;
}

/** The first judged sweep of the whole string for which every found module was replaced. */
export function countercheckOf(
  { sweeps, replacements }: CompositionInput,
  opening: CheckedSweep,
  found: readonly MeasuredPart[],
): CheckedSweep | undefined {
  const mended = (sweep: CheckedSweep): boolean =>
    found.every(({ first, last }) => {
      for (let position = first; position <= last; position++) {
        const [before, after] = [opening, sweep].map((each) => replacedBefore(replacements, position, each));
        if (after! > before!) return true;
      }
      return false;
    });
  return [...sweeps]
    .sort(inTime)
    .find(
      (sweep) =>
        isWhole(sweep) &&
        inTime(sweep, opening) > 0 &&
        !/^(void|not judged)$/.test(sweep.analysis.verdict) &&
        mended(sweep),
    );
}
