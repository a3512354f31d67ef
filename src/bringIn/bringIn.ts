/** Many files for one campaign: those it names already are passed over, and what one file shows helps to read the others. */
import type { Campaign } from '../campaign/model.js';
import { freeName } from '../presentation/fixes/fix.js';
import { layoutText, readLayout } from '../presentation/fixes/layoutText.js';
import type { LayoutCandidate } from '../presentation/fixes/layoutCandidates.js';
import { findInTable, type FindOptions } from './findInTable.js';
import type { FoundSweep, FoundTable, LeftOut, TableInput } from './foundTable.js';
import type { NamedLayout } from './layoutNeeded.js';
import type { DateOrder } from './writtenTime.js';

export interface BringInOptions {
  readonly campaign: Campaign;
  /** Keys of the files that the campaign names already. */
  readonly named: ReadonlySet<string>;
  /** Write a layout down even where none is needed. */
  readonly writeLayout?: boolean;
  /** Called between files; a host that must stay responsive waits here. */
  readonly breathe?: () => Promise<void> | undefined;
}

export interface BroughtIn {
  /** In the order of time; those without one behind them, by path. */
  readonly found: readonly FoundTable[];
  readonly left: readonly LeftOut[];
}

export async function bringIn(inputs: readonly TableInput[], options: BringInOptions): Promise<BroughtIn> {
  const search = new Search(options);
  const seen = new Set<string>();
  const results: (FoundTable | LeftOut)[] = [];
  const byInput = new Map<FoundTable | LeftOut, TableInput>();
  for (const input of [...inputs].sort((a, b) => (a.path < b.path ? -1 : 1))) {
    if (seen.has(input.file)) continue;
    seen.add(input.file);
    const result = options.named.has(input.file) ? alreadyNamed(input) : search.find(input);
    results.push(result);
    byInput.set(result, input);
    await options.breathe?.();
  }
  const order = orderOf(results);
  const settled = results.map((result) =>
    order && result.kind === 'sweep' && result.isDayDoubtful
      ? search.find(byInput.get(result)!, order)
      : result,
  );
  const found = settled.filter((result) => result.kind !== 'left');
  return { found: inTimeOrder(found), left: settled.filter((result) => result.kind === 'left') };
}

/** The same table with the layout that was chosen among those that it reads with; its name stays, so that tables may share it. */
export function withChoice(found: FoundSweep, choice: LayoutCandidate): FoundSweep {
  const name = found.layout?.name ?? 'table';
  const record = readLayout(layoutText(name, choice.lines));
  return record ? { ...found, layout: { name, record, lines: choice.lines }, choices: [] } : found;
}

const alreadyNamed = ({ file, path }: TableInput): LeftOut => ({
  kind: 'left',
  file,
  path,
  reason: 'The campaign names it already.',
  isNamed: true,
});

/** Layouts found so far are known to the files behind. */
class Search {
  readonly #layouts: NamedLayout[];
  readonly #options: BringInOptions;

  constructor(options: BringInOptions) {
    this.#options = options;
    this.#layouts = [...options.campaign.layouts].map(([name, { record }]) => ({ name, record }));
  }

  find(input: TableInput, order?: DateOrder): FoundTable | LeftOut {
    const { campaign, writeLayout } = this.#options;
    const options: FindOptions = {
      campaign,
      layouts: this.#layouts,
      order,
      writeLayout,
      nameLayout: this.#free,
    };
    const result = findInTable(input, options);
    if (result.kind !== 'sweep' || !result.layout?.lines) return result;
    const same = this.#layouts.find(({ lines }) => lines && sameLines(lines, result.layout!.lines!));
    if (same) return { ...result, layout: same };
    this.#layouts.push(result.layout);
    return result;
  }

  readonly #free = (wanted: string): string => {
    const own = new Set(this.#layouts.map(({ name }) => name));
    let name = freeName(this.#options, wanted);
    for (let count = 2; own.has(name); count++) name = freeName(this.#options, `${wanted}-${count}`);
    return name;
  };
}

const sameLines = (a: NonNullable<NamedLayout['lines']>, b: typeof a): boolean =>
  a.length === b.length && a.every(([name, value], at) => b[at]![0] === name && b[at]![1] === value);

/** The order of day and month that the files agree on. */
function orderOf(results: readonly (FoundTable | LeftOut)[]): DateOrder | undefined {
  const shown = new Set(results.flatMap((each) => (each.kind === 'sweep' && each.order ? [each.order] : [])));
  return shown.size === 1 ? [...shown][0] : undefined;
}

export function inTimeOrder(found: readonly FoundTable[]): FoundTable[] {
  const key = (each: FoundTable): string => each.facts.time.fact?.text ?? '9999';
  return [...found].sort((a, b) => {
    const [one, other] = [key(a), key(b)];
    if (one !== other) return one < other ? -1 : 1;
    return a.path < b.path ? -1 : 1;
  });
}
