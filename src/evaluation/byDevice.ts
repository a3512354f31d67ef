/** Sweeps of the same device, which are looked at together. */
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';
import type { Campaign, ReplaceRecord } from '../campaign/model.js';
import { isDoneBefore, type Timed } from '../campaign/moment.js';
import { stringOf } from '../campaign/names.js';
import { FilteredList } from '../text/filteredList.js';
import { GroupedList } from '../text/groupedList.js';
import { groupBy } from '../text/groups.js';
import { MappedList } from '../text/mappedList.js';
import type { Steps } from '../text/steps.js';
import type { EvaluatedSweep } from './evaluation.js';
import { replacementsByString } from './replacements.js';

interface SweepOfAddress extends Timed {
  readonly address: string;
}

/** Sweeps of the same address with no module of the string replaced between them, in reading order. */
export function sweepsByDevice<S extends SweepOfAddress>(sweeps: readonly S[], campaign: Campaign): S[][] {
  const replacements = replacementsByString(campaign);
  return [...groupBy(sweeps, ({ address }) => address).values()].flatMap((ofAddress) =>
    devicesOf(ofAddress, replacements),
  );
}

/** @param sweeps of one address */
function devicesOf<S extends SweepOfAddress>(
  sweeps: readonly S[],
  replacements: ReadonlyMap<string, readonly ReplaceRecord[]>,
): S[][] {
  const ofString = replacements.get(stringOf(sweeps[0]!.address)) ?? [];
  const before = groupBy(sweeps, (sweep) => ofString.filter(({ time }) => isDoneBefore(time, sweep)).length);
  return [...before.values()];
}

/** Those of a device that are analysed anew. */
type Changes = ReadonlyMap<EvaluatedSweep, { readonly analysis: SweepAnalysis }>;
type Changed = readonly [before: EvaluatedSweep, after: EvaluatedSweep];
const unchanged: readonly Changed[] = [];

/** Sweeps changed by what others of the same device say, again and again as few of them change. */
export class ChangedByDevice {
  readonly #change: (device: readonly EvaluatedSweep[]) => Changes;
  readonly #addresses = new GroupedList(({ address }: EvaluatedSweep) => address);
  #meaning: object | undefined;
  #changes = new MappedList<readonly EvaluatedSweep[], readonly Changed[]>(() => unchanged);
  readonly #changed = new FilteredList((changes: readonly Changed[]) => changes.length > 0);

  constructor(change: (device: readonly EvaluatedSweep[]) => Changes) {
    this.#change = change;
  }

  /** The very same list where none changes. */
  *of(sweeps: readonly EvaluatedSweep[], campaign: Campaign): Steps<readonly EvaluatedSweep[]> {
    if (campaign.meaning !== this.#meaning) {
      const replacements = replacementsByString(campaign);
      this.#meaning = campaign.meaning;
      this.#changes = new MappedList((ofAddress) => {
        const changes = devicesOf(ofAddress, replacements).flatMap((device) => [...this.#change(device)]);
        return changes.length > 0
          ? changes.map(([sweep, { analysis }]) => [sweep, { ...sweep, analysis }])
          : unchanged;
      });
    }
    const { lists } = this.#addresses.of(sweeps);
    yield;
    const changes = this.#changed.of(yield* this.#changes.steps(lists));
    if (changes.length === 0) return sweeps;
    const after = new Map(changes.flat());
    return sweeps.map((sweep) => after.get(sweep) ?? sweep);
  }
}
