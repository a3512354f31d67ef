/** Campaigns that a report has to bear, and the report of one without its charts. All names and numbers are invented. */
import { fileURLToPath } from 'node:url';
import type { EvaluatedFile } from '../../src/cli/eachCampaign.js';
import { evaluateOne } from '../../src/cli/evaluateOne.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import { drawCharts } from '../../src/report/drawCharts.js';
import { chartsOf, type ReportDocument } from '../../src/report/document.js';
import { reportDocument } from '../../src/report/reportDocument.js';
import type { ReportOptions } from '../../src/report/reportOptions.js';
import { toHtml } from '../../src/report/writers/toHtml.js';
import { generateCampaign, memoryReader } from '../bench/generate.js';
import { silentIn } from '../cli/runInFolder.js';
import { evaluateText } from '../evaluation/memoryFiles.js';

const project = fileURLToPath(new URL('../..', import.meta.url));

export async function exampleFile(name: string): Promise<EvaluatedFile> {
  const only = await evaluateOne(`examples/${name}/campaign.sweepbook`, silentIn(project));
  if (typeof only === 'string') throw new Error(only);
  return only;
}

export const example = async (name: string): Promise<Evaluation> => (await exampleFile(name)).evaluation;

/** Of so many strings; `change` may write the text anew before it is read. */
export function generated(strings: number, change = (text: string) => text): Promise<Evaluation> {
  const campaign = generateCampaign(strings);
  const reader = memoryReader({ ...campaign, text: change(campaign.text) });
  return new Workbook(reader).evaluate('campaign.sweepbook');
}

export const nothingJudged = (): Promise<Evaluation> =>
  generated(6, (text) => text.replace('irradiance 700 W/m2 ..', 'irradiance 1200 W/m2 ..'));

export const everythingFailed = (strings = 6): Promise<Evaluation> =>
  generated(strings, (text) => text.replace('Pmax       -5 % ..', 'Pmax       20 % ..'));

export const emptyCampaign = (): Promise<Evaluation> => evaluateText('');

export const longWord = 'Dreiphasenwechselrichteranschlusskastenbefestigungsschraubenhersteller'.repeat(3);
export const longSerial = 'KF-ABCDEFGHJKLMNPQRSTUVWXYZ-0123456789-AB';

/** Long names, umlauts, serial numbers of 40 characters, letters that the font does not have, and hostile ones. */
export const longNames = (): Promise<Evaluation> =>
  generated(4, (text) =>
    text
      .replace(
        'campaign generated "Generated for measuring"',
        `campaign generated "Größe ${longWord} & <b>Söhne</b>"\n  client "日本 Ärger ${longWord}"\n  operator "${'Übermäßig lange Bezeichnung '.repeat(12)}"`,
      )
      .replace('tracer T\n', `tracer T "${longWord}"\n  serial "${longSerial}"\n  calibrated 2026-01-12\n`)
      .replaceAll('S00001', `Straße-${'überlang.'.repeat(9)}01`)
      .replaceAll(/data "Straße[^"]*"/g, 'data "S00001.csv"')
      .concat(
        `replace S00002/11 at 2026-05-14 13:10\n  serial "${longSerial}" -> "${longSerial}9"\n  reason "${longWord} photo-${longWord}.jpg"\n`,
      )
      .concat(`note S00002 at 2026-05-14 14:00 "${'Ein Satz mit Umlauten: äöüß. '.repeat(80)}"\n`),
  );

export const options: ReportOptions = {
  content: 'full',
  language: 'en',
  paper: 'A4',
  display: (file) => file.replace(`${project}`, '').replace(/^\/w\//, ''),
  version: '0.0.0',
};

export const documentOf = (evaluation: Evaluation, more: Partial<ReportOptions> = {}): ReportDocument =>
  reportDocument(evaluation, { ...options, ...more });

/** With a word in the place of each chart. */
export function htmlOf(evaluation: Evaluation, more: Partial<ReportOptions> = {}): string {
  const report = documentOf(evaluation, more);
  return toHtml(report, new Map(chartsOf(report).map(({ key }) => [key, '<svg></svg>'])));
}

export async function drawnHtml(evaluation: Evaluation, more: Partial<ReportOptions> = {}): Promise<string> {
  const report = documentOf(evaluation, more);
  return toHtml(report, await drawCharts(chartsOf(report)));
}
