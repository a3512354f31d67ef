/** From one block of text to one record. What is wrong is reported with lines relative to the block. */
import type { Block } from '../syntax/block.js';
import type { Line } from '../syntax/token.js';
import { rangeOnLine, type Range } from '../text/place.js';
import type { Problem } from '../text/problem.js';
import { buildRecord } from './buildRecord.js';
import { decodeValue, type PointUnits } from './decodeValue.js';
import {
  blockKeywords,
  blocksWithProperty,
  findBlockKeyword,
  findProperty,
  propertiesOf,
  type BlockKeyword,
  type PropertyKeyword,
} from './keywords.js';
import type { CampaignEntry, InlinePoints, ModuleRecord, Words } from './model.js';
import { checkNameplate, isCrystallineWithCells } from './nameplate.js';
import { checkLimits } from './parameterLimits.js';
import { nearest } from './nearest.js';
import { PropertyValues } from './propertyValues.js';
import { isPointRow, readPoints } from './readPoints.js';
import { readHeader } from './readHeader.js';
import { didYouMean, problem, replaceMend, shorten, ValueReader } from './valueReader.js';

export interface DecodedBlock {
  /** Absent when the header could not be read, and for `include`. */
  readonly entry?: CampaignEntry;
  readonly include?: Words;
  /** Block-relative, in the order of the lines. */
  readonly problems: readonly Problem[];
  /** Names that the block would have given had its header been readable: a reference to one is no second mistake. */
  readonly doubtfulNames: readonly string[];
  /** The header is a property that slipped to column 0: the block before it may lack what stands here. */
  readonly slipped: boolean;
}

/** The same block gives the very same answer. */
export function decodeBlock(block: Block): DecodedBlock {
  return block.derive(decode);
}

function decode(block: Block): DecodedBlock {
  const problems: Problem[] = [];
  const { header } = block;
  for (const line of block.lines) if (line.problem) problems.push(line.problem);
  const decoder = new BlockDecoder(block, problems);
  const result = header ? decoder.run(header) : decoder.beforeFirstHeader();
  const told = oneErrorALine(problems);
  told.sort(
    (a, b) => a.range.start.line - b.range.start.line || a.range.start.character - b.range.start.character,
  );
  return { slipped: false, ...result, problems: told, doubtfulNames: decoder.doubtfulNames };
}

/** What follows on a line that has had its error is most likely the same mistake seen again. */
function oneErrorALine(problems: readonly Problem[]): Problem[] {
  const faulty = new Set<number>();
  return problems.filter(({ range, severity }) => {
    if (faulty.has(range.start.line)) return false;
    if (severity === 'error') faulty.add(range.start.line);
    return true;
  });
}

class BlockDecoder {
  readonly #values = new PropertyValues();
  /** Properties that a misspelt word most likely stands for, with the place of the word. */
  readonly #misspelt = new Map<string, Range>();
  #points: InlinePoints | undefined;
  readonly doubtfulNames: string[] = [];

  constructor(
    readonly block: Block,
    readonly problems: Problem[],
  ) {}

  beforeFirstHeader(): Partial<DecodedBlock> {
    const stray = this.block.lines.find((line) => line.tokens.length > 0);
    if (stray) {
      const word = stray.tokens[0]!.text;
      const range = rangeOnLine(stray.number, 0, stray.text.length);
      const isHeader = findBlockKeyword(word) !== undefined;
      this.#doubt(stray);
      const message = isHeader
        ? `\`${word}\` starts a block: it stands at the start of the line.`
        : 'This line is indented but belongs to no block. A block starts with a line that is not indented, such as `sweep 1.03 at 2026-05-14 11:42`.';
      const mends = isHeader ? [removeIndent(stray)] : undefined;
      if (!stray.problem) this.problems.push(problem('syntax/no-header', 'error', range, message, mends));
    }
    return {};
  }

  run(header: Line): Partial<DecodedBlock> {
    const first = header.tokens[0];
    if (!first) return {};
    const keyword = first.kind === 'word' ? findBlockKeyword(first.text) : undefined;
    if (!keyword) return this.#unknownBlock(header);
    const reader = new ValueReader(header, this.problems, 1);
    const fields = readHeader(reader, keyword);
    this.#readProperties(keyword);
    if (!fields) {
      this.#doubt(header);
      return {};
    }
    if (keyword.name === 'include') return { include: fields.text };
    const headerRange = rangeOnLine(0, 0, header.tokens.at(-1)!.end);
    const input = { header: fields, headerRange, values: this.#values, points: this.#points };
    const build = (): CampaignEntry => buildRecord(keyword.name as CampaignEntry['kind'], input);
    const entry = build();
    this.#checkRequired(keyword, entry);
    if (entry.kind === 'sweep') this.#checkSweep(entry.headerRange);
    if (entry.kind === 'criteria') this.problems.push(...checkLimits(entry));
    const refused = entry.kind === 'module' ? this.#checkNameplate(entry) : [];
    // What follows from the names of properties is checked by now; later checks take a misspelt one for written.
    for (const [name, range] of this.#misspelt)
      if (!this.#values.wrote(name)) this.#values.ranges.set(name, range);
    return { entry: refused.length > 0 ? build() : entry };
  }

  /** One by one: a line may have more words than a call may have arguments. */
  #doubt(line: Line): void {
    for (const word of wordsOf(line)) this.doubtfulNames.push(word);
  }

  /** Nothing is computed from a coefficient that cannot be. Answers the properties that lost their value. */
  #checkNameplate(module: ModuleRecord): string[] {
    const found = checkNameplate(module);
    this.problems.push(...found);
    const refused = found.flatMap(
      ({ id }) => /^nameplate\/(alpha-negative|(?:beta|gamma)-positive)$/.exec(id)?.[1]?.split('-')[0] ?? [],
    );
    for (const name of refused) this.#values.drop(name);
    return refused;
  }

  #unknownBlock(header: Line): Partial<DecodedBlock> {
    const { text, start, end } = header.tokens[0]!;
    const range = rangeOnLine(0, start, end);
    this.#doubt(header);
    if (header.problem) return {};
    const owners = blocksWithProperty(text);
    if (owners.length > 0) {
      const message = `\`${text}\` is a property of ${owners.map((name) => `\`${name}\``).join(', ')}: indent it under its block.`;
      const indent = { title: 'Indent the line', range: rangeOnLine(0, 0, 0), text: '  ' };
      this.problems.push(problem('syntax/not-indented', 'error', range, message, [indent]));
      return { slipped: true };
    }
    const near = nearest(
      text,
      blockKeywords.map((block) => block.name),
    );
    const all = blockKeywords.map((block) => block.name).join(', ');
    const message = `\`${shorten(text)}\` starts no block.${near ? didYouMean(near) : ` Blocks are ${all}.`}`;
    this.problems.push(problem('syntax/unknown-block', 'error', range, message, replaceMend(range, near)));
    return {};
  }

  #readProperties(keyword: BlockKeyword): void {
    const lines = this.block.lines.slice(1).filter((line) => line.tokens.length > 0);
    for (let index = 0; index < lines.length; index++) {
      const line = lines[index]!;
      if (this.#isIndentedHeader(keyword, line)) return;
      const rows = this.#readProperty(keyword, line, lines, index + 1);
      index += rows;
    }
  }

  /** A block keyword that slipped inwards: it and what follows belong to another block. */
  #isIndentedHeader(keyword: BlockKeyword, line: Line): boolean {
    const { text, start, end, kind } = line.tokens[0]!;
    if (kind !== 'word' || !findBlockKeyword(text) || findProperty(keyword.name, text)) return false;
    const message = `\`${text}\` starts a block: it stands at the start of the line.`;
    const range = rangeOnLine(line.number, start, end);
    this.#doubt(line);
    if (!line.problem)
      this.problems.push(problem('syntax/indented-block', 'error', range, message, [removeIndent(line)]));
    return true;
  }

  /** Answers how many lines beyond its own it took. */
  #readProperty(keyword: BlockKeyword, line: Line, lines: readonly Line[], next: number): number {
    const reader = new ValueReader(line, this.problems, 1);
    const { text: name, kind, start, end } = line.tokens[0]!;
    const range = rangeOnLine(line.number, start, end);
    const property = kind === 'word' ? findProperty(keyword.name, name) : undefined;
    if (!property) {
      this.#unknownProperty(keyword, reader, name, range);
      return isPointRow(line) ? countRows(lines, next) : 0;
    }
    const rows = property.form.kind === 'points' ? lines.slice(next, next + countRows(lines, next)) : [];
    if (this.#values.wrote(name) && !property.repeatable) {
      const message = `\`${name}\` is written twice in this block. The first one counts.`;
      reader.fail('property/repeated', range, message, [
        {
          title: 'Remove the line',
          range: { start: { line: line.number, character: 0 }, end: { line: line.number + 1, character: 0 } },
          text: '',
        },
      ]);
      return rows.length;
    }
    const whole = rangeOnLine(line.number, start, line.tokens.at(-1)!.end);
    if (!this.#values.wrote(name)) this.#values.ranges.set(name, whole);
    const value = decodeValue(reader, property);
    if (property.form.kind === 'points') {
      if (value) this.#points = readPoints(line, rows, value as PointUnits, this.problems);
    } else if (name === 'note' && property.repeatable) {
      if (value) this.#values.notes.push(value as Words);
    } else this.#values.set(name, property.form.kind, value);
    return rows.length;
  }

  #unknownProperty(keyword: BlockKeyword, reader: ValueReader, name: string, range: Range): void {
    const own = [...propertiesOf(keyword.name).keys()];
    const near = nearest(name, own);
    if (near && !this.#misspelt.has(near)) this.#misspelt.set(near, range);
    const elsewhere = near ? [] : blocksWithProperty(name);
    const about =
      own.length === 0
        ? ` A \`${keyword.name}\` is one line.`
        : elsewhere.length > 0
          ? ` It belongs to ${elsewhere.map((block) => `\`${block}\``).join(', ')}.`
          : near
            ? didYouMean(near)
            : ` It has ${own.join(', ')}.`;
    const message = `\`${shorten(name)}\` is no property of \`${keyword.name}\`.${about}`;
    reader.fail('property/unknown', range, message, replaceMend(range, near));
  }

  #absent(name: string): boolean {
    return !this.#values.wrote(name) && !this.#misspelt.has(name);
  }

  /** All that is missing is one problem, at the header. */
  #checkRequired(keyword: BlockKeyword, entry: CampaignEntry): void {
    const absent = keyword.properties.filter(
      ({ name, requiredFor, unless }) =>
        requiredFor !== undefined &&
        this.#absent(name) &&
        !(unless !== undefined && this.#values.wrote(unless)),
    );
    const estimated = entry.kind === 'module' && isCrystallineWithCells(entry);
    const missing = absent.filter((property) => !(estimated && property.estimatedForSilicon));
    const first = missing[0];
    if (!first) {
      if (absent.length > 0) this.#reportEstimated(keyword, absent, entry.headerRange);
      return;
    }
    const names = missing.map(({ name }) => `\`${name}\``).join(', ');
    const purposes = [...new Set(missing.map(({ requiredFor }) => requiredFor))].join(' and ');
    const message = `This \`${keyword.name}\` block lacks ${names}, needed for the ${purposes}. Write \`${first.example}\`.`;
    const severe = first.requiredFor === 'translation to STC' || first.requiredFor === 'reading of the table';
    this.problems.push(
      problem(`${keyword.name}/incomplete`, severe ? 'error' : 'warning', entry.headerRange, message),
    );
  }

  #reportEstimated(keyword: BlockKeyword, absent: readonly PropertyKeyword[], range: Range): void {
    const names = absent.map(({ name }) => `\`${name}\``).join(', ');
    const message = `This \`${keyword.name}\` block lacks ${names}: estimated for crystalline silicon, which widens the uncertainty. Write \`${absent[0]!.example}\` where the datasheet says it.`;
    this.problems.push(problem(`${keyword.name}/estimated`, 'warning', range, message));
  }

  #checkSweep(headerRange: Range): void {
    const hasData = !this.#absent('data');
    const hasPoints = !this.#absent('points');
    if (hasData && hasPoints && this.#values.wrote('points')) {
      const message = 'A sweep has its points from `data` or from `points`, not from both. The table counts.';
      this.problems.push(problem('sweep/data-twice', 'error', this.#values.ranges.get('points')!, message));
    } else if (!hasData && !hasPoints && this.#absent('void')) {
      const message =
        'This sweep has no points. Write `data "file.csv"`, or `points V, A` and the rows under it.';
      this.problems.push(problem('sweep/data-missing', 'error', headerRange, message));
    } else if (!hasData) this.#checkInlineSweep(headerRange);
  }

  /** A table may have columns of irradiance and temperature; inline points have not. */
  #checkInlineSweep(headerRange: Range): void {
    const missing = ['irradiance', 'temperature'].filter((name) => this.#absent(name));
    if (missing.length === 0 || !this.#absent('void')) return;
    const examples = missing.map((name) => `\`${findProperty('sweep', name)!.example}\``).join(' and ');
    const message = `This sweep lacks ${missing.map((name) => `\`${name}\``).join(' and ')}. Write ${examples}.`;
    this.problems.push(problem('sweep/conditions-missing', 'error', headerRange, message));
  }
}

function countRows(lines: readonly Line[], from: number): number {
  let count = 0;
  while (from + count < lines.length && isPointRow(lines[from + count]!)) count++;
  return count;
}

function wordsOf(header: Line): string[] {
  return header.tokens.slice(1).map((token) => token.text.normalize('NFC').split('/')[0]!);
}

function removeIndent(line: Line) {
  const width = line.text.length - line.text.trimStart().length;
  return { title: 'Move to the start of the line', range: rangeOnLine(line.number, 0, width), text: '' };
}
