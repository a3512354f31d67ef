/** What is to be repaired and where, for the crew that does it: one row a fault, with room to write what was done. */
import type { Evaluation } from '../evaluation/evaluation.js';
import { failedOutside } from '../cases/failedOutside.js';
import { isOpenState, type StringCase } from '../cases/stringCase.js';
import { caseStory, evidenceLine } from '../presentation/caseTexts.js';
import { diagnosisHeadline } from '../presentation/diagnosisTexts.js';
import { electricalItems } from '../presentation/electricalModel.js';
import { formatDeviation, missing } from '../presentation/formatNumber.js';
import { deviationUncertainty, headlineReason } from '../presentation/sweepTexts.js';
import { formatDeviationUncertainty } from '../presentation/formatNumber.js';
import type { ReportContext } from './context.js';
import type { Block, Line } from './document.js';

/** A row of the list; the first three cells of it. */
interface Fault {
  readonly where: Line;
  readonly found: Line;
  readonly toDo: Line;
}

export function faultPart(context: ReportContext): Block[] {
  const { words } = context;
  const faults = faultsOf(context);
  const heading: Block = { kind: 'heading', level: 2, text: words.headings.faults };
  if (faults.length === 0) return [heading, { kind: 'paragraph', text: words.counts.noFaults }];
  return [
    heading,
    {
      kind: 'table',
      tall: true,
      columns: [
        { title: words.columns.where, align: 'left' },
        { title: words.columns.what, align: 'left' },
        { title: words.columns.toDo, align: 'left' },
        { title: words.columns.newSerial, align: 'left' },
        { title: words.columns.doneBy, align: 'left' },
      ],
      rows: faults.map(({ where, found, toDo }) => [where, found, toDo, '', '']),
    },
  ];
}

function faultsOf(context: ReportContext): Fault[] {
  const { evaluation } = context;
  return [
    ...evaluation.cases.filter(({ state }) => isOpenState(state)).map((each) => caseFault(context, each)),
    ...outsideFaults(context),
    ...electricalFaults(context),
  ];
}

function caseFault(context: ReportContext, found: StringCase): Fault {
  const { local, state, said, evaluation } = context;
  const { openedBy, proposal } = found;
  const deviation = openedBy?.analysis.deviation.pmax;
  const expanded = deviationUncertainty(openedBy?.analysis.uncertainty.pmax, deviation);
  const off =
    deviation === undefined
      ? ''
      : ` Pmax ${local.value(formatDeviation(deviation))} ${expanded === undefined ? '' : local.value(formatDeviationUncertainty(expanded))}`.trimEnd();
  const diagnosis =
    openedBy?.diagnosis && !openedBy.diagnosis.healthy ? diagnosisHeadline(openedBy.diagnosis) : '';
  const known = [caseStory(found), evidenceLine(found), diagnosis].filter((text) => text !== '');
  return {
    where: whereText(evaluation, context, found),
    found: [state(found.state), `${off}.`, ...known.flatMap((text) => [' ', ...said(sentence(text))])],
    toDo: proposal ? [...said(proposal.text), ' ', ...said(proposal.why, { soft: true })] : missing,
  };
}

const sentence = (text: string): string => (/[.!?]$/.test(text) ? text : `${text}.`);

/** The string, what it feeds and where it hangs, and each module known to be at fault with its serial number. */
function whereText(
  { campaign }: Evaluation,
  { words }: ReportContext,
  { string, modules }: StringCase,
): Line {
  const record = campaign.strings.get(string)?.record;
  const faulty = modules
    .filter(({ status }) => status === 'faulty' || status === 'contradictory')
    .map(({ position, serial }) =>
      serial === undefined ? `${string}/${position}` : `${string}/${position} (${words.serialOf(serial)})`,
    );
  const more = [record?.title, record?.feeds, record?.plane?.text, ...faulty].filter(
    (text) => text !== undefined,
  );
  return [{ text: words.string(string), strong: true }, ...(more.length > 0 ? [`; ${more.join('; ')}`] : [])];
}

const outsideFaults = ({ evaluation, verdict, said }: ReportContext): Fault[] =>
  failedOutside(evaluation).map(({ address, analysis }) => ({
    where: { text: address, strong: true },
    found: [verdict(analysis.verdict), '. ', ...said(headlineReason(analysis)?.text ?? '')],
    toDo: missing,
  }));

function electricalFaults({ evaluation, words, verdict, said, saidText }: ReportContext): Fault[] {
  return electricalItems(evaluation)
    .filter((item) => item.verdict.verdict === 'fail' && !item.replaced)
    .map((item) => ({
      where: { text: item.address, strong: true },
      found: [
        verdict(item.verdict),
        `, ${words.tests[item.kind]}: ${saidText(item.reading)}. `,
        ...said(item.reasons.join(' ')),
      ],
      toDo:
        item.danger === undefined
          ? missing
          : [{ text: `${words.danger} `, strong: true }, ...said(item.danger)],
    }));
}
