/** Slips of the pen on a nameplate: values exchanged, a sign left out, a unit that is not meant. */
import type { Line } from '../../syntax/token.js';
import { rangeOnLine } from '../../text/place.js';
import { propertyLine, type Fix, type FixEdit, type Fixer, type FixInput } from './fix.js';

/** Exchanges what stands behind two properties. */
export const exchange =
  (one: string, other: string): Fixer =>
  (input) => {
    const [first, second] = [propertyLine(input.placed, one), propertyLine(input.placed, other)];
    if (!first || !second) return [];
    const edits = [valueEdit(input, first, valueOf(second)), valueEdit(input, second, valueOf(first))];
    return [{ title: `Exchange ${one} and ${other}`, edits }];
  };

const valueOf = ({ text, tokens }: Line): string =>
  text.slice(tokens[1]?.start ?? text.length, tokens.at(-1)!.end);

function valueEdit({ problem, placed }: FixInput, { number, tokens }: Line, text: string): FixEdit {
  const line = placed.startLine + number;
  return { file: problem.file, range: rangeOnLine(line, tokens[1]!.start, tokens.at(-1)!.end), text };
}

/** alpha and beta exchanged, where beta could be an alpha. */
export const alphaNegative: Fixer = (input) => exchange('alpha', 'beta')(input);

/** A coefficient that falls is negative. */
export const negativeSign: Fixer = (input) => {
  const { line, problem, placed } = input;
  const value = line.tokens[1];
  if (!value) return [];
  const text = `-${value.text.replace(/^\+/, '')}`;
  const range = rangeOnLine(placed.startLine + line.number, value.start, value.end);
  return [{ title: `Write \`${text}\``, edits: [{ file: problem.file, range, text }], isPreferred: true }];
};

/** Relative coefficients of listed modules, 5 to 95 % of the CEC module list of 2017, in 1/K; see campaign/nameplate.ts. */
const usual: Readonly<Record<string, readonly [number, number]>> = {
  alpha: [0.00005, 0.0012],
  beta: [-0.0041, -0.0017],
  gamma: [-0.0053, -0.0017],
};
const ratedBy: Readonly<Record<string, string>> = { alpha: 'Isc', beta: 'Voc', gamma: 'Pmax' };
const unitsPerKelvin: Readonly<Record<string, readonly (readonly [string, number])[]>> = {
  alpha: [
    ['mA/K', 1e-3],
    ['A/K', 1],
  ],
  beta: [
    ['mV/K', 1e-3],
    ['V/K', 1],
  ],
  gamma: [
    ['W/K', 1],
    ['mW/K', 1e-3],
  ],
};

/** The unit with which the number is that of a usual module. */
export const plausibleUnit: Fixer = (input) => {
  const name = input.line.tokens[0]?.text ?? '';
  const range = usual[name];
  const number = Number(/^[+-]?[\d.]+/.exec(input.line.tokens[1]?.text ?? '')?.[0] ?? NaN);
  if (!range || Number.isNaN(number)) return [];
  const rated = ratedValue(input, ratedBy[name]!);
  const absolute =
    rated === undefined ? [] : unitsPerKelvin[name]!.map(([unit, factor]) => [unit, factor / rated] as const);
  const all = [['%/K', 0.01] as const, ['1/K', 1] as const, ['ppm/K', 1e-6] as const, ...absolute];
  const fitting = all.filter(([, factor]) => number * factor >= range[0] && number * factor <= range[1]);
  return fitting.map(([unit]): Fix => ({
    title: `Write \`${number} ${unit}\``,
    edits: [unitEdit(input, number, unit)],
  }));
};

function unitEdit(input: FixInput, number: number, unit: string): FixEdit {
  const { line, placed, problem } = input;
  const end = line.tokens[2]?.kind === 'word' ? line.tokens[2].end : line.tokens[1]!.end;
  const range = rangeOnLine(placed.startLine + line.number, line.tokens[1]!.start, end);
  return { file: problem.file, range, text: `${number} ${unit}` };
}

function ratedValue({ placed, evaluation, problem }: FixInput, name: string): number | undefined {
  const entry = evaluation.campaign.entries.find(
    ({ block }) => block.file === problem.file && block.startLine === placed.startLine,
  )?.record;
  if (entry?.kind !== 'module') return undefined;
  return { Isc: entry.isc, Voc: entry.voc, Pmax: entry.pmax }[name]?.value;
}

/** The cells of one path of a half-cut module, or twice as many, where that gives a usual voltage a cell. */
export const cellsOfPath: Fixer = (input) => {
  const voc = ratedValue(input, 'Voc');
  const written = propertyLine(input.placed, 'cells')?.tokens[1];
  const cells = Number(written?.text);
  if (voc === undefined || !written || !(cells > 0)) return [];
  const fitting = [cells / 2, cells * 2].filter(
    (each) => Number.isInteger(each) && voc / each >= 0.5 && voc / each <= 0.8,
  );
  const line = propertyLine(input.placed, 'cells')!;
  return fitting.map((each) => ({
    title: `Write \`cells ${each}\``,
    edits: [valueEdit(input, line, String(each))],
  }));
};
