import type { ValueForm } from '../valueForms.js';

/** What cannot be computed while the property is absent. */
export type RequiredFor =
  'translation to STC' | 'position of the sun' | 'angle of incidence' | 'reading of the table';

export interface PropertyKeyword {
  readonly name: string;
  /** A sentence or two for a hover. */
  readonly meaning: string;
  readonly form: ValueForm;
  /** The standard the term comes from, `common practice, no source`, or `this notation`. */
  readonly source: string;
  /** A line as one would write it. */
  readonly example: string;
  readonly requiredFor?: RequiredFor;
  /** The property that makes a required one unnecessary. */
  readonly unless?: string;
  /** A documented estimate stands for it on a module of crystalline silicon that declares its cells. */
  readonly estimatedForSilicon?: boolean;
  readonly repeatable?: boolean;
}

/** What stands behind the block keyword on its line. */
export type HeaderForm =
  /** `NAME ["title"]` */
  | 'name'
  /** `NAME [.. NAME] ["title"]` */
  | 'run'
  /** `ADDRESS at TIME` */
  | 'addressAtTime'
  /** `from "file"` */
  | 'fromFile'
  /** `[ADDRESS] [at TIME] "text"` */
  | 'note'
  /** `ADDRESS [at TIME] "reason" [by "role"]` */
  | 'accept'
  /** `"path"` */
  | 'path';

export const headerGrammar: Readonly<Record<HeaderForm, string>> = {
  name: 'name [ text ]',
  run: 'name [ ".." name ] [ text ]',
  addressAtTime: 'address "at" time',
  fromFile: '"from" text',
  note: '[ address ] [ "at" time ] text',
  accept: 'address [ "at" time ] text [ "by" text ]',
  path: 'text',
};

export interface BlockKeyword {
  readonly name: string;
  readonly meaning: string;
  readonly header: HeaderForm;
  readonly source: string;
  /** A header line as one would write it. */
  readonly example: string;
  readonly takesNotes: boolean;
  readonly properties: readonly PropertyKeyword[];
}
