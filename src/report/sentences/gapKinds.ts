/** What the gaps of a sentence take, by their names without the number behind: `{value2}` takes a value. */

const number = String.raw`[-+]?\d+(?:\.\d+)?(?:e[-+]?\d+)?`;
const unit = String.raw`(?:%/K|%/a|%|(?:[VAW]|ohm)/K|k?W/m2|[kMGm]?ohm|mS|mV|mA|kW|MB|mm2|mm|degC|deg|V|A|W|K|m|h)(?![\p{L}/])`;
const measure = `(?:± )?${number}(?: ?${unit})?`;

/** `8.0 ± 0.7 %`, `312 W ± 9 W`, `-0 % .. 3 %`, `under 0.1 %` without its word; `?` or `-` where the core knows none. */
const value = String.raw`(?:${measure}(?: (?:±|\.\.) ${number}(?: ?${unit})?)?|\?|-)`;

/** A table may give a time in any form. */
const moment = String.raw`(?:\d{4}-\d{2}-\d{2}(?: \d{2}:\d{2}(?::\d{2})?)?|\S+(?: \S+)?)`;

/** Never more than one sentence; `et al. 2018` ends none. */
const piece = String.raw`(?:(?!\. \p{Lu}).)+?`;

/** Regular expressions without groups that capture; the shortest that fits is taken. */
export const gapPatterns = {
  value,
  /** A whole number that forms of words go with. */
  count: String.raw`\d+`,
  /** `2026-05-14`, `2026-05-14 11:42`. */
  time: moment,
  /** `1.03`, `1.03/11`, `1.03/1-9`. */
  address: String.raw`\S+?`,
  /** `1.03 at 2026-05-14 11:42`. */
  sweep: String.raw`\S+?(?: at ${moment})?`,
  /** Of a curve parameter. */
  symbol: 'Pmax|Isc|Voc|Imp|Vmp|FF',
  /** What a column of a table holds. */
  role: 'voltage|current|irradiance|temperature|address|time|date',
  /** `sweeps/G1.csv`, with line and column behind: `sweeps/G1.csv:12:2`. */
  file: String.raw`\S.*?\.\w+(?::\d+)*`,
  /** As it was written: a name, a file, notation in backticks, headers of a table. */
  name: '.+?',
  /** What a person wrote, in its own language, to the end. */
  text: '.+',
  /** Phrases alone with the same between them. */
  phrases: piece,
  /** Addresses, sweeps or phrases with `, `, ` and ` or `; ` between them. */
  list: piece,
  /** Sentences of the catalogue, one or several. */
  sentence: '.+?',
  /** A sentence that follows a colon and so begins with a small letter. */
  clause: '.+?',
  /** A phrase at the beginning of a sentence, where English has a capital. */
  opening: piece,
  /** A piece of a sentence that is in the catalogue by itself. */
  phrase: piece,
} as const;

export type GapKind = keyof typeof gapPatterns;

export function gapKindOf(name: string): GapKind {
  const kind = name.replace(/\d+$/, '');
  if (!Object.hasOwn(gapPatterns, kind)) throw new SyntaxError(`{${name}} names no kind of gap.`);
  return kind as GapKind;
}
