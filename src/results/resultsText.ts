/**
 * The results of campaigns as text to be committed beside them: one line for each sweep, electrical test and case, so that a pull
 * request shows what a change of a coefficient, of a table or of the program turned.
 *
 * Numbers have six significant digits, percentages three decimals, however many a screen shows. Computers and engines of
 * JavaScript may differ in the last of sixteen digits of a logarithm; six are the same everywhere.
 */
import type { ParameterName } from '../campaign/model.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import { electricalItems } from '../presentation/electricalModel.js';
import {
  deviationUncertainty,
  parameterSymbols,
  parameterUnits,
  timeText,
} from '../presentation/sweepTexts.js';
import { printable } from '../presentation/terminalText.js';
import { rulesVersion } from './rulesVersion.js';

/** The results of a campaign, under the name that it has in the file. */
export interface NamedResults {
  readonly name: string;
  readonly lines: readonly ResultLine[];
}

/** Fields of one line; the first `keyFields` of them say what it is about. */
export type ResultLine = readonly string[];

/** What, which device, when. */
export const keyFields = 3;

export const titleLine = (version: number): string => `# Sweepbook results, rules ${version}`;

const explanation = [
  '# Written by "sweepbook check --write-results", compared by "sweepbook check --against". Fields are separated by tabs.',
  '# Numbers have six significant digits, deviations from the nameplate and their expanded uncertainties three decimals.',
];

/** What a former file holds of a campaign that is not computed now. */
export interface KeptSection {
  readonly name: string;
  readonly lines: readonly string[];
}

/** @param kept goes into the file as it is */
export function resultsText(campaigns: readonly NamedResults[], kept: readonly KeptSection[] = []): string {
  const computed = campaigns.map(({ name, lines }): KeptSection => ({
    name,
    lines: lines.map((fields) => fields.join('\t')),
  }));
  const sections = [...computed, ...kept]
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap(({ name, lines }) => ['', campaignLine(name), ...lines]);
  return `${[titleLine(rulesVersion), ...explanation, ...sections].join('\n')}\n`;
}

export const campaignLine = (name: string): string => `campaign\t${field(name)}`;

/** In the order of the campaign: its sweeps, its electrical tests, the cases of its strings. */
export function resultLines(evaluation: Evaluation): ResultLine[] {
  const lines = [
    ...evaluation.sweeps.map(sweepLine),
    ...electricalItems(evaluation).map(({ kind, address, time, reading, verdict }) => [
      kind,
      address,
      time,
      verdict.verdict,
      reading,
    ]),
    ...evaluation.cases.map(({ string, state }) => ['case', string, '-', state]),
  ].map((fields) => fields.map(field));
  return numbered(lines);
}

/** What a verdict is mostly about comes first. */
const shown: readonly ParameterName[] = ['pmax', 'isc', 'voc', 'imp', 'vmp', 'ff'];

function sweepLine({ address, time, analysis, diagnosis }: EvaluatedSweep): string[] {
  const { translated, deviation, uncertainty } = analysis;
  const parameter = (name: ParameterName): string[] => {
    const value = translated?.parameters[name];
    if (value === undefined) return [];
    const unit = parameterUnits[name];
    const amount = `${parameterSymbols[name]} ${significant(value)}${unit === '' ? '' : ` ${unit}`}`;
    const share = deviation[name];
    const spread = deviationUncertainty(uncertainty[name], share);
    return [
      amount +
        (share === undefined ? '' : ` ${percent(share)}`) +
        (spread === undefined ? '' : ` ± ${percent(spread)}`),
    ];
  };
  return [
    'sweep',
    address,
    timeText(time),
    analysis.verdict,
    ...(translated ? [`procedure ${translated.procedure}`] : []),
    ...shown.flatMap(parameter),
    ...(diagnosis?.causes[0] ? [`cause ${diagnosis.causes[0].code}`] : []),
  ];
}

/** Two of the same device at the same time are told apart by their number. */
function numbered(lines: readonly ResultLine[]): ResultLine[] {
  const seen = new Map<string, number>();
  return lines.map((fields) => {
    const key = fields.slice(0, keyFields).join('\t');
    const count = (seen.get(key) ?? 0) + 1;
    seen.set(key, count);
    if (count === 1) return fields;
    return [
      ...fields.slice(0, keyFields - 1),
      `${fields[keyFields - 1]} #${count}`,
      ...fields.slice(keyFields),
    ];
  });
}

const significant = (value: number): string => String(Number(value.toPrecision(6)));

const percent = (fraction: number): string => {
  const text = (100 * fraction).toFixed(3);
  return `${Number(text) === 0 ? '0.000' : text} %`;
};

/** Names may hold whatever their author put between quotation marks; a field holds no tab and no line end. */
const field = (text: string): string => printable(text).replace(/[\u2028\u2029]/g, '\ufffd');
