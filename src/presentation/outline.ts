import { stringOf } from '../campaign/names.js';
import type { CampaignEntry, Placed } from '../campaign/model.js';
import type { StringCase } from '../cases/stringCase.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import { rangeOnLine, shiftRange, type Range } from '../text/place.js';
import { isNoted } from './caseTexts.js';
import { stateMark } from './caseWords.js';
import type { OutlineSymbol, SymbolKind } from './editorTypes.js';
import { formatDeviation } from './formatNumber.js';
import { timeText } from './sweepTexts.js';
import { countsLine, verdictMark } from './verdictWords.js';

/** The blocks of one file in their order; sweeps of one table stand under it. */
export function outlineOf(evaluation: Evaluation, file: string): OutlineSymbol[] {
  const byLine = new Map<number, EvaluatedSweep[]>();
  for (const sweep of evaluation.sweeps) {
    if (sweep.block.file !== file) continue;
    const { startLine } = sweep.block;
    byLine.set(startLine, [...(byLine.get(startLine) ?? []), sweep]);
  }
  const cases = new Map(evaluation.cases.filter(isNoted).map((each) => [each.string, each]));
  return evaluation.campaign.entries
    .filter(({ block }) => block.file === file)
    .map((placed) => symbolOf(placed, byLine.get(placed.block.startLine) ?? [], evaluation))
    .map((symbol) => withCase(symbol, cases));
}

/** The state of the case beside every sweep and event of the string; none where no fault is known. */
function withCase(symbol: OutlineSymbol, cases: ReadonlyMap<string, StringCase>): OutlineSymbol {
  const { kind, name, detail, children } = symbol;
  const found =
    kind === 'sweep' || kind === 'event' || kind === 'string' ? cases.get(stringOf(name)) : undefined;
  const mark = found && stateMark(found.state);
  return {
    ...symbol,
    detail: mark ? `${detail === '' ? '' : `${detail}, `}case ${mark.symbol} ${mark.word}` : detail,
    children: children.map((child) => withCase(child, cases)),
  };
}

function symbolOf(placed: Placed, sweeps: readonly EvaluatedSweep[], evaluation: Evaluation): OutlineSymbol {
  const { record, block } = placed;
  const selectionRange = shiftRange(record.headerRange, block.startLine);
  const range: Range = {
    start: rangeOnLine(block.startLine, 0, 0).start,
    end: endOf(placed, selectionRange),
  };
  const children =
    record.kind === 'sweeps'
      ? sweeps.map((sweep) => ({
          name: sweep.address,
          detail: `${timeText(sweep.time)}, ${verdictText(sweep)}`,
          kind: 'sweep' as const,
          range,
          selectionRange,
          children: [],
        }))
      : [];
  return { ...words(record, sweeps, evaluation), range, selectionRange, children };
}

/** Up to the end of the last line: its length is not known here, a property's keyword is, so the next line's start ends it. */
function endOf({ block }: Placed, selection: Range): Range['end'] {
  return block.endLine > block.startLine ? { line: block.endLine + 1, character: 0 } : selection.end;
}

const verdictText = (sweep: EvaluatedSweep): string => {
  const { verdict, deviation } = sweep.analysis;
  const pmax = deviation.pmax === undefined ? '' : `, Pmax ${formatDeviation(deviation.pmax)}`;
  return `${verdictMark(verdict).symbol} ${verdictMark(verdict).word}${pmax}`;
};

function words(
  record: CampaignEntry,
  sweeps: readonly EvaluatedSweep[],
  evaluation: Evaluation,
): { name: string; detail: string; kind: SymbolKind } {
  switch (record.kind) {
    case 'campaign':
      return { name: record.name.text, detail: countsLine(evaluation.counts), kind: 'campaign' };
    case 'string': {
      const modules = record.modules ? `${record.modules.count} x ${record.modules.type.text}` : '';
      return { name: record.name.text, detail: modules, kind: 'string' };
    }
    case 'sweep': {
      const own = sweeps[0];
      const detail = own ? `${timeText(own.time)}, ${verdictText(own)}` : timeText(record.time?.iso);
      return { name: record.address.text, detail, kind: 'sweep' };
    }
    case 'sweeps':
      return { name: record.data.text, detail: `${sweeps.length} sweeps`, kind: 'sweep' };
    case 'note':
      return { name: record.address?.text ?? 'note', detail: record.text.text, kind: 'event' };
    case 'replace':
    case 'insulation':
    case 'continuity':
    case 'polarity':
    case 'meter':
      return {
        name: record.address.text,
        detail: `${record.kind}, ${timeText(record.time?.iso)}`,
        kind: 'event',
      };
    case 'accept':
      return { name: record.address.text, detail: 'accept', kind: 'event' };
    case 'tracer':
    case 'reference':
      return { name: record.name.text, detail: record.title ?? record.kind, kind: 'instrument' };
    default:
      return { name: record.name.text, detail: record.title ?? '', kind: record.kind };
  }
}
