import type { ReadingProblem, TablePlace } from './sweepReading.js';

export function error(id: string, message: string, place?: TablePlace): ReadingProblem {
  return { id: `sweep/${id}`, severity: 'error', message, place };
}

export function warning(id: string, message: string, place?: TablePlace): ReadingProblem {
  return { id: `sweep/${id}`, severity: 'warning', message, place };
}

export function information(id: string, message: string, place?: TablePlace): ReadingProblem {
  return { id: `sweep/${id}`, severity: 'information', message, place };
}

/** The first error in words, with the name of the table before it where one is given. */
export function firstError(problems: readonly ReadingProblem[], table?: string): string | undefined {
  const found = problems.find(({ severity }) => severity === 'error');
  return found && (table === undefined ? found.message : `${table}: ${found.message}`);
}

/** A field as shown in a message: quoted, on one line, cut at 40 characters. */
export function shown(field: string): string {
  const line = field.slice(0, 60).replace(/\s+/g, ' ').trim();
  return `"${line.length > 40 ? `${line.slice(0, 39)}…` : line}"`;
}

/** At most twelve fields, for a message. */
export function shownList(fields: readonly string[]): string {
  const named = fields.filter((field) => field.trim() !== '');
  const some = named.slice(0, 12).map(shown).join(', ');
  return named.length > 12 ? `${some} and ${named.length - 12} more` : some;
}

/** `1 row`, `37 rows`. */
export function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

/** Four significant digits, no exponent within the reach of a measurement. */
export function brief(value: number): string {
  return String(Number(value.toPrecision(4)));
}

/** How to say in the notation which column is which. */
export const layoutAdvice =
  'Write a layout with `voltage "header"` and `current "header"` (or `voltage column 2`), and give the sweep `layout NAME`.';
