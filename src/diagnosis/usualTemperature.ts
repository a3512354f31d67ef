/** The cell temperature that is usual among strings in like light, for each sweep without its own string. */
import { WithoutOne } from '../physics/robustStatistics.js';
import { leastPeers, likeLight, type Usual } from './peers.js';
import { changedPlaces } from '../text/changedSpan.js';
import { MappedList } from '../text/mappedList.js';
import { UsualValues } from './usualLevel.js';

/** K per W/m2: how cells warm with the light, from an open rack at 1000 W/m2 (common practice, no source). */
const warming = 0.03;

/** More at once than this are put in order together. */
const few = 50;

interface Member {
  readonly conditions: { readonly irradiance?: number; readonly cellTemperature?: number };
}

/** A member with a temperature. */
interface Warm {
  /** W/m2 */
  readonly light: number;
  /** The cell temperature less what the light warms, degC. */
  readonly inTheDark: number;
}

export class UsualTemperature {
  readonly #usual = new UsualValues({ leastScatter: 1.5, grid: 0.5 });
  readonly #warmOf = new MappedList(warmOf);
  #warm: readonly (Warm | undefined)[] = [];
  /** Those there are, by light. */
  #byLight: readonly Warm[] = [];
  #irradiances: readonly (number | undefined)[] = [];
  #stringAt: readonly number[] = [];
  /** Places of the sweeps by rising irradiance. */
  #order: readonly number[] = [];
  #result: readonly (Usual | undefined)[] = [];

  /**
   * @param members of each string one or none
   * @param irradiances of the sweeps, W/m2
   * @param stringAt for each sweep the place of its string among the members
   * @returns for each sweep; undefined where fewer than `leastPeers` other strings were in like light
   */
  of(
    members: readonly (Member | undefined)[],
    irradiances: readonly (number | undefined)[],
    stringAt: readonly number[],
  ): readonly (Usual | undefined)[] {
    const former = this.#warm;
    const warm = this.#warmOf.of(members);
    const sameLight = irradiances === this.#irradiances;
    if (warm === former && sameLight && stringAt === this.#stringAt) return this.#result;
    if (warm !== former) this.#byLight = byLight(warm, former, this.#byLight);
    if (!sameLight) this.#order = inOrder(irradiances, this.#irradiances, this.#order);
    [this.#warm, this.#irradiances, this.#stringAt] = [warm, irradiances, stringAt];
    return (this.#result = this.#compute());
  }

  #compute(): readonly (Usual | undefined)[] {
    const warm = this.#warm;
    const byLight = this.#byLight;
    const result: (Usual | undefined)[] = this.#stringAt.map(() => undefined);
    // Those in like light with the sweep at hand stand from `from` up to `to`.
    let [from, to] = [0, 0];
    let alike = new WithoutOne();
    for (const sweep of this.#order) {
      const here = this.#irradiances[sweep];
      if (here === undefined || here <= 0) continue;
      const isBelow = ({ light }: Warm): boolean => light / here - 1 <= -likeLight;
      const isAlike = ({ light }: Warm): boolean => Math.abs(light / here - 1) < likeLight;
      const before = to;
      while (to < byLight.length && byLight[to]!.light / here - 1 < likeLight) to++;
      // Many at once are cheaper put in order together.
      if (to - before > few)
        alike = new WithoutOne(byLight.slice(from, to).map(({ inTheDark }) => inTheDark));
      else for (let at = before; at < to; at++) alike.add(byLight[at]!.inTheDark);
      while (from < to && isBelow(byLight[from]!)) alike.remove(byLight[from++]!.inTheDark);
      const own = warm[this.#stringAt[sweep]!];
      const left = own && isAlike(own) ? own.inTheDark : undefined;
      const count = to - from - (left === undefined ? 0 : 1);
      if (count >= leastPeers) result[sweep] = this.#usual.of(alike, left, count, warming * here);
    }
    return result;
  }
}

function warmOf(member: Member | undefined): Warm | undefined {
  const { irradiance: light, cellTemperature } = member?.conditions ?? {};
  return light === undefined || cellTemperature === undefined
    ? undefined
    : { light, inTheDark: cellTemperature - warming * light };
}

/** @param former the values before, and `sorted` those of them by light */
function byLight(
  warm: readonly (Warm | undefined)[],
  former: readonly (Warm | undefined)[],
  sorted: readonly Warm[],
): readonly Warm[] {
  const light = (each: Warm): number => each.light;
  const changed = changedPlaces(warm, former, few);
  if (!changed) return warm.filter((each) => each !== undefined).sort((a, b) => light(a) - light(b));
  const result = sorted.filter((each) => !changed.some((at) => former[at] === each));
  for (const at of changed) if (warm[at]) insert(result, warm[at], light);
  return result;
}

/** Places by rising value, undefined for 0. @param former the values before, and `order` their order */
function inOrder(
  values: readonly (number | undefined)[],
  former: readonly (number | undefined)[],
  order: readonly number[],
): readonly number[] {
  const value = (at: number): number => values[at] ?? 0;
  const changed = changedPlaces(values, former, few);
  if (!changed) return values.map((_, at) => at).sort((a, b) => value(a) - value(b));
  const result = order.filter((at) => !changed.includes(at));
  for (const at of changed) insert(result, at, value);
  return result;
}

/** @param sorted by rising value */
function insert<Item>(sorted: Item[], item: Item, valueOf: (item: Item) => number): void {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (valueOf(sorted[middle]!) < valueOf(item)) low = middle + 1;
    else high = middle;
  }
  sorted.splice(low, 0, item);
}
