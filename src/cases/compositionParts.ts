/** Which sweeps of a string are explained, and which sweeps of its parts still speak of the modules that stood in it then. */
import type { ReplaceRecord } from '../campaign/model.js';
import { byMoment, isDoneBefore } from '../campaign/moment.js';
import type { CheckedSweep } from '../checks/check.js';
import type { CompositionInput } from './composition.js';
import { holds, lengthOf, positionsOf, runOf } from './positions.js';
import { measuredPart, type MeasuredPart } from './seriesParts.js';

export const isFailing = ({ analysis: { verdict } }: CheckedSweep): boolean =>
  verdict === 'fail' || verdict === 'conditional fail';

const isWhole = ({ address }: CheckedSweep): boolean => !address.includes('/');

/** The latest failing sweep of the whole string, else the one that opened its case. */
export function openingOf({ sweeps, case: known }: CompositionInput): CheckedSweep | undefined {
  const failing = sweeps.filter((sweep) => isWhole(sweep) && isFailing(sweep)).sort(byMoment);
  return failing.at(-1) ?? known?.openedBy;
}

/** Light may differ by this factor at most between a part and its string: own choice; translations from farther are coarse. */
const mostLight = 1.6;

/**
 * The parts to compose: single modules first, then the shortest sections none of whose modules are taken already. Of repeated
 * sweeps the latest that was judged; none from before or after a replacement at its positions.
 */
export function partsOf({ sweeps, replacements }: CompositionInput, opening: CheckedSweep): MeasuredPart[] {
  const candidates = sweeps.flatMap((sweep) => {
    const run = runOf(sweep.address);
    if (!run || !isUsable(sweep, opening)) return [];
    const moved = positionsOf(run).some(
      (position) =>
        replacedBefore(replacements, position, sweep) !== replacedBefore(replacements, position, opening),
    );
    return moved ? [] : [measuredPart(sweep, run)];
  });
  const judged = (part: MeasuredPart): number => (part.sweep.analysis.verdict === 'not judged' ? 1 : 0);
  candidates.sort((a, b) => lengthOf(a) - lengthOf(b) || judged(a) - judged(b) || byMoment(b.sweep, a.sweep));
  const taken = new Set<number>();
  const parts = candidates.filter((part) => {
    const positions = positionsOf(part);
    if (positions.some((position) => taken.has(position))) return false;
    for (const position of positions) taken.add(position);
    return true;
  });
  return parts.sort((a, b) => a.first - b.first);
}

function isUsable({ analysis, reading, target }: CheckedSweep, opening: CheckedSweep): boolean {
  const light = analysis.conditions.irradiance;
  if (analysis.verdict === 'void' || !reading || light === undefined || target.seriesModules === undefined)
    return false;
  const ratio = light / opening.analysis.conditions.irradiance!;
  return ratio > 1 / mostLight && ratio < mostLight && analysis.measured?.parameters.isc !== undefined;
}

/** How often the module at a position was replaced before a sweep. */
function replacedBefore(
  replacements: readonly ReplaceRecord[],
  position: number,
  sweep: CheckedSweep,
): number {
  return replacements.filter(({ address: { first, last = first }, time }) => {
    const covers = first !== undefined && holds({ first, last: last! }, position);
    return covers && isDoneBefore(time, sweep);
  }).length;
}

/** The first judged sweep of the whole string for which every found module was replaced. */
export function countercheckOf(
  { sweeps, replacements }: CompositionInput,
  opening: CheckedSweep,
  found: readonly MeasuredPart[],
): CheckedSweep | undefined {
  const mended = (sweep: CheckedSweep): boolean =>
    found.every((part) =>
      positionsOf(part).some(
        (position) =>
          replacedBefore(replacements, position, sweep) > replacedBefore(replacements, position, opening),
      ),
    );
  return [...sweeps]
    .sort(byMoment)
    .find(
      (sweep) =>
        isWhole(sweep) &&
        byMoment(sweep, opening) > 0 &&
        !/^(void|not judged)$/.test(sweep.analysis.verdict) &&
        mended(sweep),
    );
}
