/** DuckDB in memory, for reading an export back with other eyes. */
import { DuckDBInstance, type DuckDBConnection } from '@duckdb/node-api';

export type Row = Record<string, unknown>;

export async function openDuck(): Promise<{
  query: (sql: string) => Promise<Row[]>;
  run: (sql: string) => Promise<void>;
}> {
  const connection: DuckDBConnection = await (await DuckDBInstance.create(':memory:')).connect();
  return {
    // Whole numbers of 64 bits come as bigint; no count here needs them.
    query: async (sql) =>
      (await connection.runAndReadAll(sql))
        .getRowObjectsJS()
        .map((row) =>
          Object.fromEntries(
            Object.entries(row).map(([name, value]) => [
              name,
              typeof value === 'bigint' ? Number(value) : value,
            ]),
          ),
        ),
    run: async (sql) => void (await connection.run(sql)),
  };
}
