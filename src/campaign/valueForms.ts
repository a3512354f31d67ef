import type { Dimension } from './quantity.js';
import type { NamedKind } from './model.js';

export interface Choice {
  readonly word: string;
  readonly meaning: string;
}

/** What may stand behind a property keyword. Bounds are in canonical units. */
export type ValueForm =
  | {
      readonly kind: 'quantity';
      readonly dimensions: readonly Dimension[];
      readonly least?: number;
      readonly most?: number;
      readonly bareFraction?: boolean;
      /** A range may stand in the place of the uncertainty: a tolerance of production. */
      readonly tolerance?: boolean;
    }
  | { readonly kind: 'limits'; readonly dimension: Dimension }
  | { readonly kind: 'uncertainty'; readonly dimension: Dimension }
  | { readonly kind: 'count'; readonly least: number; readonly most: number; readonly noun?: string }
  | { readonly kind: 'number'; readonly least?: number; readonly most?: number }
  | { readonly kind: 'choice'; readonly choices: readonly Choice[] }
  /** Free text in quotes. */
  | { readonly kind: 'text' }
  /** Text in quotes, or one word. */
  | { readonly kind: 'label' }
  /** A path in quotes, relative to the file it is written in. */
  | { readonly kind: 'path' }
  /** A name that nothing in this campaign need have. */
  | { readonly kind: 'name' }
  | { readonly kind: 'reference'; readonly to: readonly NamedKind[] }
  | { readonly kind: 'references'; readonly to: readonly NamedKind[] }
  | { readonly kind: 'date' }
  | { readonly kind: 'months' }
  | { readonly kind: 'timezone' }
  | { readonly kind: 'coordinates' }
  | { readonly kind: 'mapPosition' }
  | { readonly kind: 'modules' }
  | { readonly kind: 'cable' }
  | { readonly kind: 'temperature' }
  | { readonly kind: 'pinShadow' }
  | { readonly kind: 'points' }
  | { readonly kind: 'delimiter' }
  | { readonly kind: 'column'; readonly dimension?: Dimension }
  | {
      readonly kind: 'columnOrQuantity';
      readonly dimension: Dimension;
      readonly least: number;
      readonly most: number;
    }
  | { readonly kind: 'columnOrTemperature' }
  | { readonly kind: 'textChange' }
  | { readonly kind: 'typeChange' };

export type FormKind = ValueForm['kind'];

/** How each form is written, for messages and the language reference. EBNF names are those of the grammar there. */
export const formGrammar: Readonly<Record<FormKind, string>> = {
  quantity: 'quantity',
  limits: 'range',
  uncertainty: 'uncertainty',
  count: 'integer',
  number: 'number',
  choice: 'one of the words',
  text: 'text',
  label: 'text | word',
  path: 'text (a path)',
  name: 'name',
  reference: 'name',
  references: 'name { "," name }',
  date: 'date',
  months: 'integer ( "months" | "years" )',
  timezone: 'IANA zone name',
  coordinates: 'latitude "," longitude',
  mapPosition: 'quantity "," quantity',
  modules: 'integer "x" name',
  cable: 'quantity "," quantity "," ( "copper" | "aluminium" )',
  temperature: 'quantity ( "cell" | "module" [ "offset" quantity ] ) | "from" "Voc"',
  pinShadow: 'quantity [ "," "pin" quantity ]',
  points: 'unit "," unit, then rows of number number',
  delimiter: '"comma" | "semicolon" | "tab" | "pipe" | "space" | text of one character',
  column: 'column [ unit ]',
  columnOrQuantity: 'column [ unit ] | quantity',
  columnOrTemperature: 'column [ unit ] [ "cell" | "module" [ "offset" quantity ] ] | temperature',
  textChange: 'text "->" text',
  typeChange: 'name "->" name',
};
