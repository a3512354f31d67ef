/** Do the limits of criteria let the nameplate itself pass? Those that do not have lost a minus more often than they are meant. */
import type { Problem } from '../text/problem.js';
import type { CriteriaRecord } from './model.js';
import { parameterKeywords } from './buildRecord.js';
import type { Limits } from './quantity.js';
import { problem } from './valueReader.js';

/** One problem at most for each parameter. */
export function checkLimits({ limits, propertyRanges, headerRange }: CriteriaRecord): Problem[] {
  return parameterKeywords.flatMap(([parameter, keyword]) => {
    const end = beyondNameplate(limits[parameter]);
    if (end === undefined) return [];
    const message = `A ${keyword} as on the nameplate, a deviation of 0 %, would fail by this limit (${end}). Is a minus missing, or one too many?`;
    return [
      problem('criteria/excludes-nameplate', 'warning', propertyRanges.get(keyword) ?? headerRange, message),
    ];
  });
}

function beyondNameplate(limits: Limits | undefined): string | undefined {
  const [least, most] = [limits?.least, limits?.most];
  if (least && least.value > 0) return `at least ${least.writtenValue} ${least.unit}`;
  if (most && most.value < 0) return `at most ${most.writtenValue} ${most.unit}`;
  return undefined;
}
