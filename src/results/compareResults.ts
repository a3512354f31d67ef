/** Committed results against those that are computed now. */
import {
  campaignLine,
  keyFields,
  titleLine,
  type KeptSection,
  type NamedResults,
  type ResultLine,
} from './resultsText.js';
import { rulesVersion } from './rulesVersion.js';

export interface ResultDifference {
  readonly campaign: string;
  /** Line of the committed file, from 1; of the campaign's own line where the file lacks the result. */
  readonly line: number;
  /** `sweep 1.03 2026-05-14 11:42: fail -> conditional fail; Pmax 6863.12 W … -> 6871.4 W …`. */
  readonly text: string;
}

export interface ResultsComparison {
  readonly differences: readonly ResultDifference[];
  /** What the file holds of campaigns that were not computed. */
  readonly notComputed: readonly KeptSection[];
  /** Rules that wrote the file, where they are not those of this program. */
  readonly otherRules?: number;
  /** Undefined where the text is no results file: what is wrong with it. */
  readonly unreadable?: string;
}

interface CommittedLine {
  readonly line: number;
  readonly fields: ResultLine;
}

interface Section {
  readonly line: number;
  readonly lines: readonly CommittedLine[];
}

export function compareResults(text: string, campaigns: readonly NamedResults[]): ResultsComparison {
  const lines = text.replace(/^\ufeff/, '').split(/\r?\n/);
  const version = /^# Sweepbook results, rules (\d+)$/.exec(lines[0] ?? '')?.[1];
  if (version === undefined) {
    const unreadable = `its first line is not "${titleLine(rulesVersion)}"`;
    return { differences: [], notComputed: [], unreadable };
  }
  const sections = sectionsOf(lines);
  const differences = campaigns.flatMap(({ name, lines: computed }) => {
    const section = sections.get(campaignLine(name));
    if (!section) return [{ campaign: name, line: 1, text: 'the file has no results of this campaign' }];
    return differencesOf(section, computed).map((each) => ({ campaign: name, ...each }));
  });
  const known = new Set(campaigns.map(({ name }) => campaignLine(name)));
  const notComputed = [...sections]
    .filter(([key]) => !known.has(key))
    .map(([key, section]) => ({
      name: key.slice(key.indexOf('\t') + 1),
      lines: section.lines.map(({ fields }) => fields.join('\t')),
    }));
  const otherRules = Number(version) === rulesVersion ? undefined : Number(version);
  return { differences, notComputed, otherRules };
}

/** By the line that begins each. A second section of a name, as a careless merge leaves it, adds to the first. */
function sectionsOf(lines: readonly string[]): Map<string, Section> {
  const sections = new Map<string, { line: number; lines: CommittedLine[] }>();
  let current: { line: number; lines: CommittedLine[] } | undefined;
  lines.forEach((text, index) => {
    if (text === '' || text.startsWith('#')) return;
    const line = index + 1;
    if (text.startsWith('campaign\t')) {
      current = sections.get(text) ?? { line, lines: [] };
      sections.set(text, current);
    } else current?.lines.push({ line, fields: text.split('\t') });
  });
  return sections;
}

const keyOf = (fields: ResultLine): string => fields.slice(0, keyFields).join(' ').replace(/ -$/, '');

function differencesOf(
  { line: first, lines }: Section,
  computed: readonly ResultLine[],
): Omit<ResultDifference, 'campaign'>[] {
  const committed = new Map<string, CommittedLine>();
  const twice: CommittedLine[] = [];
  for (const each of lines) {
    const key = keyOf(each.fields);
    if (committed.has(key)) twice.push(each);
    else committed.set(key, each);
  }
  const found: Omit<ResultDifference, 'campaign'>[] = [];
  let after = first;
  for (const fields of computed) {
    const key = keyOf(fields);
    const former = committed.get(key);
    committed.delete(key);
    if (!former) {
      found.push({ line: after, text: `${key}: not in the file; now ${fields.slice(keyFields).join('; ')}` });
      continue;
    }
    after = former.line;
    const changes = changesOf(former.fields, fields);
    if (changes !== '') found.push({ line: former.line, text: `${key}: ${changes}` });
  }
  for (const { line, fields } of committed.values())
    found.push({ line, text: `${keyOf(fields)}: no such result now` });
  for (const { line, fields } of twice)
    found.push({ line, text: `${keyOf(fields)}: stands in the file twice` });
  return found.sort((a, b) => a.line - b.line);
}

/** Fields are held against each other by their first word, which names what they tell; verdicts by their place. */
function changesOf(former: ResultLine, now: ResultLine): string {
  const named = (fields: ResultLine): Map<string, string> =>
    new Map(
      fields
        .slice(keyFields)
        .map((field, index) => [index === 0 ? 'verdict' : field.slice(0, field.search(/ |$/)), field]),
    );
  const [before, after] = [named(former), named(now)];
  const texts: string[] = [];
  for (const [name, field] of after) {
    const old = before.get(name);
    if (old === undefined) texts.push(`now also ${field}`);
    else if (old !== field) texts.push(`${old} -> ${field}`);
  }
  for (const [name, field] of before) if (!after.has(name)) texts.push(`no longer ${field}`);
  return texts.join('; ');
}
