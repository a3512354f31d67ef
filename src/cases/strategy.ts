/** Halves or one by one: whichever opens fewer connectors for the suspects that are left. */
import { costOfHalves, costOneByOne, halvesOf, type SearchCost, type Suspects } from './disconnections.js';

export interface Strategy {
  readonly kind: 'halves' | 'one by one';
  readonly halves: SearchCost;
  readonly oneByOne: SearchCost;
  /**
   * Sweeps that following the proposals takes at most, the confirming one included, where one module is weak; undefined
   * where more than one may be.
   */
  readonly mostSweeps?: number;
}

export function chooseStrategy(suspects: Suspects): Strategy {
  const halves = costOfHalves(suspects);
  const oneByOne = costOneByOne(suspects);
  const kind = halves.connectors < oneByOne.connectors ? 'halves' : 'one by one';
  return {
    kind,
    halves,
    oneByOne,
    ...(suspects.weak === 1 ? { mostSweeps: mostSweepsOf(suspects, kind) } : {}),
  };
}

/** Each step takes what is cheaper for the suspects it leaves. */
function mostSweepsOf({ positions, count }: Suspects, kind: Strategy['kind']): number {
  const left = (rest: readonly number[]): number => {
    if (rest.length === 1) return 1;
    const suspects = { positions: rest, count, weak: 1 };
    const cheaper = costOfHalves(suspects).connectors < costOneByOne(suspects).connectors;
    return mostSweepsOf(suspects, cheaper ? 'halves' : 'one by one');
  };
  if (positions.length === 1) return 1;
  const [now, other] =
    kind === 'halves' ? halvesOf({ positions, count }) : [positions.slice(0, 1), positions.slice(1)];
  return 1 + Math.max(now.length === 1 ? 0 : left(now), left(other));
}

/** The numbers that decided, in a sentence. */
export function strategyText({ kind, halves, oneByOne, mostSweeps }: Strategy, suspects: number): string {
  const connectors = ({ connectors }: SearchCost): string => Number(connectors.toFixed(1)).toString();
  const [chosen, other] = kind === 'halves' ? [halves, oneByOne] : [oneByOne, halves];
  const [name, otherName] = kind === 'halves' ? ['Halves', 'one by one'] : ['One by one', 'halves'];
  const most =
    mostSweeps === undefined
      ? ''
      : ` At most ${mostSweeps} ${mostSweeps === 1 ? 'sweep' : 'sweeps'} are left.`;
  return `${suspects} positions are left. ${name} opens ${connectors(chosen)} connectors on average, ${otherName} ${connectors(other)}.${most}`;
}
