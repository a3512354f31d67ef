/** Positions of a string, and runs of them. */

/** From `first` to `last`, both included; counted from 1 at the positive end. */
export interface Run {
  readonly first: number;
  readonly last: number;
}

export const lengthOf = ({ first, last }: Run): number => last - first + 1;

export const holds = ({ first, last }: Run, position: number): boolean =>
  position >= first && position <= last;

export function positionsOf({ first, last }: Run): number[] {
  return Array.from({ length: last - first + 1 }, (_, index) => first + index);
}

export const moduleAddress = (string: string, position: number): string => `${string}/${position}`;

/** `1.03/10-18`; one position alone is a module. */
export function runAddress(string: string, { first, last }: Run): string {
  return first === last ? moduleAddress(string, first) : `${string}/${first}-${last}`;
}

/** The positions of an address as text: `1.03/10-18`; undefined for a whole string. */
export function runOf(address: string): Run | undefined {
  const positions = address.split('/')[1];
  if (positions === undefined) return undefined;
  const [first, last] = positions.split('-').map(Number);
  return { first: first!, last: last ?? first! };
}
