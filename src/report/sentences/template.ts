/**
 * Sentences with gaps, in the manner of gettext: the English one is the key, and finds the gaps; another language writes its own
 * sentence around them.
 *
 *     {value}               a gap; the word, without a number behind it, says what it takes (gapKinds.ts)
 *     {count:module|modules} the form that goes with the number in the gap `count`: one, and any other
 *     {1:rose|fell}          one of several words, numbered; other languages have as many, in the same order
 *     [ with {name}]         what may be absent; it holds a gap or a numbered word that tells
 */
export type Part =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'gap'; readonly name: string }
  | { readonly kind: 'forms'; readonly of: string; readonly words: readonly string[] }
  | { readonly kind: 'choice'; readonly id: string; readonly words: readonly string[] }
  | { readonly kind: 'optional'; readonly parts: readonly Part[] };

/** @throws SyntaxError when a bracket or a brace is not closed: a catalogue is written by hand. */
export function parseTemplate(template: string): readonly Part[] {
  const stack: Part[][] = [[]];
  for (const [piece, inBraces] of template.matchAll(/\{([^{}]*)\}|[[\]{}]|[^[\]{}]+/g)) {
    if (inBraces !== undefined) stack.at(-1)!.push(partOf(inBraces));
    else if (piece === '[') stack.push([]);
    else if (piece === ']') {
      const parts = stack.pop()!;
      if (stack.length === 0) throw new SyntaxError(`"]" without "[" in: ${template}`);
      stack.at(-1)!.push({ kind: 'optional', parts });
    } else if (piece === '{' || piece === '}') throw new SyntaxError(`Braces do not match in: ${template}`);
    else stack.at(-1)!.push({ kind: 'text', text: piece });
  }
  if (stack.length > 1) throw new SyntaxError(`"[" without "]" in: ${template}`);
  return stack[0]!;
}

function partOf(inBraces: string): Part {
  const [, name = '', words] = /^(\w+)(?::(.*))?$/s.exec(inBraces) ?? [];
  if (name === '') throw new SyntaxError(`Not a gap: {${inBraces}}`);
  if (words === undefined) return { kind: 'gap', name };
  return /^\d/.test(name)
    ? { kind: 'choice', id: name, words: words.split('|') }
    : { kind: 'forms', of: name, words: words.split('|') };
}

/** All parts, those of optional ones too. */
export const flatParts = (parts: readonly Part[]): readonly Part[] =>
  parts.flatMap((part) => (part.kind === 'optional' ? [part, ...flatParts(part.parts)] : [part]));

/** What was found in the gaps, and which of its numbered words a sentence has. */
export interface Found {
  readonly gaps: ReadonlyMap<string, string>;
  readonly choices: ReadonlyMap<string, number>;
}

/** Finds a whole text or nothing. */
export class Pattern {
  readonly #parts: readonly Part[];
  readonly #regExp: RegExp;

  /** @param gap the expression, without groups that capture, that a gap of this name takes */
  constructor(parts: readonly Part[], gap: (name: string) => string) {
    this.#parts = flatParts(parts);
    this.#regExp = new RegExp(`^${sourceOf(parts, gap, new Set())}$`, 'su');
  }

  find(text: string): Found | undefined {
    const match = this.#regExp.exec(text);
    if (!match) return undefined;
    const { groups = {} } = match;
    const gaps = new Map<string, string>();
    const choices = new Map<string, number>();
    for (const part of this.#parts) {
      if (part.kind === 'gap' && groups[part.name] !== undefined) gaps.set(part.name, groups[part.name]!);
      if (part.kind === 'choice' && !choices.has(part.id) && groups[`_${part.id}`] !== undefined)
        choices.set(part.id, part.words.indexOf(groups[`_${part.id}`]!));
    }
    return { gaps, choices };
  }
}

const escaped = (text: string): string => text.replace(/[\\^$.*+?()[\]{}|/]/g, '\\$&');

function sourceOf(parts: readonly Part[], gap: (name: string) => string, known: Set<string>): string {
  const once = (group: string, source: string): string => {
    if (known.has(group)) return `\\k<${group}>`;
    known.add(group);
    return `(?<${group}>${source})`;
  };
  const oneOf = (words: readonly string[]): string => words.map(escaped).join('|');
  return parts
    .map((part) => {
      switch (part.kind) {
        case 'text':
          return escaped(part.text);
        case 'gap':
          return once(part.name, gap(part.name));
        case 'forms':
          return `(?:${oneOf(part.words)})`;
        case 'choice':
          // Said a second time it may be another word: `was … it`, `were … them`.
          return known.has(`_${part.id}`)
            ? `(?:${oneOf(part.words)})`
            : once(`_${part.id}`, oneOf(part.words));
        case 'optional':
          return `(?:${sourceOf(part.parts, gap, known)})?`;
      }
    })
    .join('');
}

/**
 * The sentence of another language.
 * @param write a gap in that language; undefined where its text cannot be said in it, which ends it all
 * @param formOf which form goes with a number: 0 for one, 1 for others
 */
export function written(
  parts: readonly Part[],
  { gaps, choices }: Found,
  write: (name: string, text: string) => string | undefined,
  formOf: (number: string) => 0 | 1,
): string | undefined {
  let all = '';
  for (const part of parts) {
    const text = textOf(part);
    if (text === undefined) return undefined;
    all += text;
  }
  return all;

  function textOf(part: Part): string | undefined {
    switch (part.kind) {
      case 'text':
        return part.text;
      case 'gap':
        return write(part.name, gaps.get(part.name) ?? '');
      case 'forms':
        return part.words[formOf(gaps.get(part.of) ?? '')];
      case 'choice':
        return part.words[choices.get(part.id) ?? 0];
      case 'optional': {
        const told = part.parts.every(
          (each) =>
            (each.kind !== 'gap' || gaps.has(each.name)) && (each.kind !== 'choice' || choices.has(each.id)),
        );
        return told ? written(part.parts, { gaps, choices }, write, formOf) : '';
      }
    }
  }
}
