import type { ModuleRow, ModuleTable } from './readModuleTable.js';

/** Ignores case and accents of compatibility forms: full-width letters, ligatures. */
const folded = (text: string): string => text.normalize('NFKC').toLowerCase();

/**
 * The rows whose name, maker and technology together hold every word of `query`, in the order of the table. A row whose whole
 * name is the query stands alone. An empty query finds nothing.
 */
export function searchModules(table: ModuleTable, query: string): readonly ModuleRow[] {
  const words = folded(query).split(/\s+/).filter(Boolean);
  if (words.length === 0) return [];
  const found = table.rows.filter((row) => {
    const text = folded(`${row.name} ${row.manufacturer ?? ''} ${row.technology ?? ''}`);
    return words.every((word) => text.includes(word));
  });
  const whole = words.join(' ');
  const exact = found.filter((row) => folded(row.name).replace(/\s+/g, ' ') === whole);
  return exact.length > 0 ? exact : found;
}
