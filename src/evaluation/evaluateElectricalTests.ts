import { targetOfTest } from '../campaign/sweepTarget.js';
import { ofDeclarations } from '../campaign/ofDeclarations.js';
import type { TakenTest, ElectricalTest } from '../electricalTests/electricalTest.js';
import { judgeElectricalTests } from '../electricalTests/judgeElectricalTests.js';
import { sweepTime } from './sweepTime.js';

/** Every electrical test of the campaign, judged, in reading order. */
export const evaluateElectricalTests = ofDeclarations((campaign): readonly ElectricalTest[] => {
  const tests = campaign.declarations.flatMap(({ record, block }): TakenTest[] => {
    if (
      record.kind !== 'insulation' &&
      record.kind !== 'continuity' &&
      record.kind !== 'polarity' &&
      record.kind !== 'meter'
    )
      return [];
    const target = targetOfTest(record, campaign);
    const { time, instant } = sweepTime(record.time, target.site);
    return [{ record, block, target, time, instant }];
  });
  return judgeElectricalTests(tests);
});
