/** Between the two rows around a voltage; undefined beyond the ends. */
export function interpolated<Key extends string>(
  rows: readonly ({ readonly voltage: number } & Readonly<Record<Key, number>>)[],
  at: number,
  key: Key,
): number | undefined {
  for (let k = 1; k < rows.length; k++) {
    const [before, after] = [rows[k - 1]!, rows[k]!];
    if (before.voltage > at || after.voltage < at) continue;
    const span = after.voltage - before.voltage;
    return before[key] + (span > 0 ? (at - before.voltage) / span : 0) * (after[key] - before[key]);
  }
  return undefined;
}
