/** All checks of a campaign. What a check has to look at is remembered sweep by sweep, so that an edit costs the sweeps it touched. */
import { checks } from '../checks/index.js';
import type { Check, CheckedSweep, CheckInput } from '../checks/check.js';
import { FilteredList } from '../text/filteredList.js';
import { GroupedList } from '../text/groupedList.js';
import { MappedList } from '../text/mappedList.js';
import type { FileProblem } from '../text/problem.js';
import type { Steps } from '../text/steps.js';

const ofSweeps = checks.filter(({ concerns }) => concerns);
const none: readonly Check[] = [];

/** The sweeps that are not alone with what a check looks for in common, in reading order but for their groups. */
class InCommon {
  readonly #groups: GroupedList<CheckedSweep, string>;
  readonly #several = new FilteredList((group: readonly CheckedSweep[]) => group.length > 1);

  constructor(inCommon: (sweep: CheckedSweep) => string | undefined) {
    this.#groups = new GroupedList(inCommon);
  }

  of(sweeps: readonly CheckedSweep[]): CheckedSweep[] {
    return this.#several.of(this.#groups.of(sweeps).lists).flat();
  }
}

/** The first sweep for each value of something. */
class OncePer {
  readonly #groups: GroupedList<CheckedSweep, object>;
  readonly #first = new MappedList((group: readonly CheckedSweep[]) => group[0]!);

  constructor(oncePer: (sweep: CheckedSweep) => object | undefined) {
    this.#groups = new GroupedList(oncePer);
  }

  of(sweeps: readonly CheckedSweep[]): readonly CheckedSweep[] {
    return this.#first.of(this.#groups.of(sweeps).lists);
  }
}

/** The checks of one campaign, again and again. */
export class CampaignChecks {
  /** By sweep, which of the checks that ask for single sweeps it concerns. */
  readonly #concerned = new MappedList((sweep: CheckedSweep): readonly Check[] => {
    const found = ofSweeps.filter(({ concerns }) => concerns!(sweep));
    return found.length > 0 ? found : none;
  });
  readonly #some = new FilteredList((found: readonly Check[]) => found !== none);
  readonly #chosen = new Map<Check, InCommon | OncePer>(
    checks.flatMap((check): [Check, InCommon | OncePer][] => {
      if (check.inCommon) return [[check, new InCommon(check.inCommon)]];
      return check.oncePer ? [[check, new OncePer(check.oncePer)]] : [];
    }),
  );

  *run({ campaign, sweeps }: CheckInput): Steps<FileProblem[]> {
    const looked = new Map(ofSweeps.map((check) => [check, [] as CheckedSweep[]]));
    const concerned = yield* this.#concerned.steps(sweeps);
    if (this.#some.of(concerned).length > 0)
      concerned.forEach((found, at) => {
        for (const check of found) looked.get(check)!.push(sweeps[at]!);
      });
    return checks.flatMap((check) =>
      check.run({ campaign, sweeps: this.#chosen.get(check)?.of(sweeps) ?? looked.get(check) ?? sweeps }),
    );
  }
}
