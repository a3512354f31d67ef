/** How many of a list are named. */
const named = 4;

/** `S01, S02 and S03`; of many the first few: `S01, S02, S03, S04 and 6 others`. Each address once. */
export function addressList(addresses: readonly string[]): string {
  const each = [...new Set(addresses)];
  const shown = each.length > named + 1 ? each.slice(0, named) : each;
  const others = each.length - shown.length;
  if (others > 0) return `${shown.join(', ')} and ${others} others`;
  return shown.length < 2 ? shown.join('') : `${shown.slice(0, -1).join(', ')} and ${shown.at(-1)!}`;
}
