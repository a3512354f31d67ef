import { readFileSync } from 'node:fs';

/** Reads a table of tests/physics/data: one record per row, by header. */
export function readTable(name: string): Record<string, string>[] {
  const text = readFileSync(new URL(`./data/${name}`, import.meta.url), 'utf8');
  const [header = '', ...rows] = text.trim().split(/\r?\n/);
  const names = header.split(',');
  return rows.map((row) => {
    const fields = row.split(',');
    return Object.fromEntries(names.map((key, index) => [key, fields[index] ?? '']));
  });
}

export function readJson<T>(name: string): T {
  return JSON.parse(readFileSync(new URL(`./data/${name}`, import.meta.url), 'utf8')) as T;
}

/** |a - b| / |b|. */
export const relative = (a: number, b: number): number => Math.abs(a / b - 1);
