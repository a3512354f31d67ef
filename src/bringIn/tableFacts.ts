/**
 * What is known of a sweep beside its points, and from where. Every value is text as the notation writes it, so that what was
 * recognised, what was answered and what is written cannot differ.
 */

export const askedKinds = ['address', 'time', 'irradiance', 'temperature'] as const;
export type Asked = (typeof askedKinds)[number];

export interface Fact {
  /** `1.03/11`, `2026-05-14 11:42`, `812 W/m2`, `44.1 degC cell`; undefined: the table itself says it and nothing is to be written. */
  readonly text?: string;
  /** In words: `line 4`, `the file name`, `column "G"`. */
  readonly source: string;
}

/** What was found, each thing for itself. */
export interface Found {
  readonly fact?: Fact;
  /** Not certain enough to be written; offered where it is asked for. */
  readonly suggestion?: string;
  /** Why the suggestion is not taken. */
  readonly doubt?: string;
  /** A temperature as written that only lacks its kind: `44.1 degC`, or `"T"` in a table of many sweeps. */
  readonly withoutKind?: string;
}

export type TableFacts = Readonly<Record<Asked, Found>>;

export const noFacts: TableFacts = { address: {}, time: {}, irradiance: {}, temperature: {} };
