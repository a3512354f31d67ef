/** All checks of a campaign. What a check has to look at is remembered sweep by sweep, so that an edit costs the sweeps it touched. */
import { checks } from '../checks/index.js';
import type { Check, CheckedSweep, CheckInput } from '../checks/check.js';
import { MappedList } from '../text/mappedList.js';
import type { FileProblem } from '../text/problem.js';

const ofSweeps = checks.filter(({ concerns }) => concerns);
const none: readonly Check[] = [];

/** The checks of one campaign, again and again. */
export class CampaignChecks {
  /** By sweep, which of the checks that ask for single sweeps it concerns. */
  readonly #concerned = new MappedList((sweep: CheckedSweep): readonly Check[] => {
    const found = ofSweeps.filter(({ concerns }) => concerns!(sweep));
    return found.length > 0 ? found : none;
  });

  run({ campaign, sweeps }: CheckInput): FileProblem[] {
    const looked = new Map(ofSweeps.map((check) => [check, [] as CheckedSweep[]]));
    this.#concerned.of(sweeps).forEach((found, at) => {
      for (const check of found) looked.get(check)!.push(sweeps[at]!);
    });
    return checks.flatMap((check) => check.run({ campaign, sweeps: looked.get(check) ?? sweeps }));
  }
}
