/** One string with all its sweeps and the state of its case, as plain JSON for the panel; see stringTypes.ts. */
import { stringOf } from '../campaign/names.js';
import { latestOf } from '../campaign/moment.js';
import type { CaseEvent, ModuleEvidence } from '../cases/stringCase.js';
import type { StringHistory } from '../cases/history.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import type { IvCurve } from '../physics/ivCurve.js';
import { moduleMark, stateMark } from './caseWords.js';
import { cautions } from './cautions.js';
import { formatDeviation, formatValue } from './formatNumber.js';
import { nameplateLine, overlayData, sweepLine, type OverlayLine } from './overlayData.js';
import { placeIn } from './sourcePlace.js';
import type { EvidenceItem, EventItem, ModuleCell, OverlayData, StringModel } from './stringTypes.js';
import { deviceText, timeText } from './sweepTexts.js';
import { verdictMark } from './verdictWords.js';

export type * from './stringTypes.js';

/** Everything that the panel shows of one string; undefined when the campaign neither declares nor measures it. */
export function stringModel(evaluation: Evaluation, name: string): StringModel | undefined {
  const placed = evaluation.campaign.strings.get(name);
  const sweeps = evaluation.sweeps.filter(({ address }) => stringOf(address) === name);
  if (!placed && sweeps.length === 0) return undefined;
  const found = evaluation.cases.find((each) => each.string === name);
  const whole = sweeps.filter(({ address }) => !address.includes('/'));
  const proposal = found?.proposal;
  return {
    revision: evaluation.revision,
    name,
    title: placed?.record.title ?? '',
    device: deviceOf(placed?.record.modules, whole),
    place: placed && placeIn(placed.block, placed.record.headerRange),
    state: stateMark(found?.state ?? 'not known'),
    proposal: proposal && { text: proposal.text, why: proposal.why },
    cautions: proposal?.disconnects ? cautions : [],
    remarks: stringRemarks(evaluation, name),
    modules: (found?.modules ?? []).map((evidence) => moduleCell(evidence, name, sweeps)),
    evidence: evidenceItems(found?.modules ?? []),
    events: (found?.events ?? []).map((event) => eventItem(event, sweeps)),
    wholes: wholeLines(whole),
    parts: partLines(sweeps),
    composed: composedLines(evaluation, name),
  };
}

function deviceOf(
  modules: { readonly count: number; readonly type: { readonly text: string } } | undefined,
  whole: readonly EvaluatedSweep[],
): string {
  if (whole[0]) return deviceText(whole[0]);
  return modules ? `${modules.count} x ${modules.type.text}` : '';
}

function moduleCell(
  { position, status, because, serial }: ModuleEvidence,
  name: string,
  sweeps: readonly EvaluatedSweep[],
): ModuleCell {
  const own = sweeps.filter(({ address }) => address === `${name}/${position}`);
  return { position, mark: moduleMark(status), because, serial, sweepId: latestOf(own)?.id };
}

/** The same said of many positions is said once; of untested ones nothing is to be said. */
function evidenceItems(modules: readonly ModuleEvidence[]): EvidenceItem[] {
  const groups = new Map<string, ModuleEvidence[]>();
  for (const evidence of modules) {
    if (evidence.status === 'untested') continue;
    const key = JSON.stringify([evidence.status, evidence.because]);
    groups.set(key, [...(groups.get(key) ?? []), evidence]);
  }
  return [...groups.values()].map((group) => ({
    positions: positionsText(group.map(({ position }) => position)),
    mark: moduleMark(group[0]!.status),
    because: group[0]!.because,
  }));
}

/** Runs of three and more are written by their ends. */
function positionsText(positions: readonly number[]): string {
  const runs: number[][] = [];
  for (const position of positions) {
    const last = runs.at(-1);
    if (last && last.at(-1) === position - 1) last.push(position);
    else runs.push([position]);
  }
  return runs.map((run) => (run.length > 2 ? `${run[0]!} to ${run.at(-1)!}` : run.join(', '))).join(', ');
}

function eventItem(event: CaseEvent, sweeps: readonly EvaluatedSweep[]): EventItem {
  const sweep = event.sweep && sweeps.find(({ analysis }) => analysis === event.sweep!.analysis);
  return {
    time: timeText(event.time),
    address: event.address,
    text: event.text,
    verdict: sweep && verdictMark(sweep.analysis.verdict),
    sweepId: sweep?.id,
    place: { file: event.place.file, line: event.place.range.start.line },
  };
}

/** A campaign of many visits would draw a hedge: the newest stay. */
const mostLines = 12;

function wholeLines(whole: readonly EvaluatedSweep[]): OverlayData {
  const shown = whole.filter(({ analysis }) => analysis.verdict !== 'void').slice(-mostLines);
  const plate = whole[0] ? nameplateLine(whole[0]) : [];
  const lines = shown.flatMap((sweep) => sweepLine(sweep, timeText(sweep.time)));
  return overlayData(
    lines.length === 0 ? [] : [...plate, ...unique(lines)],
    'Sweeps of the whole string at STC',
  );
}

/** Only curves of one size belong into one chart: single modules, or sections where there are no modules. */
function partLines(sweeps: readonly EvaluatedSweep[]): OverlayData {
  const parts = sweeps.filter(
    ({ address, analysis }) => address.includes('/') && analysis.verdict !== 'void',
  );
  const modules = parts.filter(({ target }) => target.seriesModules === 1);
  const shown = (modules.length > 0 ? modules : parts).slice(-mostLines);
  const plate = shown[0] && modules.length > 0 ? nameplateLine(shown[0]) : [];
  const lines = shown.flatMap((sweep) => sweepLine(sweep, sweep.address));
  return overlayData(lines.length === 0 ? [] : [...plate, ...unique(lines)], 'Parts of the string at STC');
}

/** A name that repeats gets a number behind it. */
function unique<T extends { readonly name: string }>(lines: readonly T[]): T[] {
  const seen = new Map<string, number>();
  return lines.map((line) => {
    const count = (seen.get(line.name) ?? 0) + 1;
    seen.set(line.name, count);
    return count === 1 ? line : { ...line, name: `${line.name} (${count})` };
  });
}

/** The string as its modules make it, at the conditions of its failed sweep, beside what was measured then. */
function composedLines({ compositions }: Evaluation, name: string): OverlayData {
  const found = compositions.get(name);
  if (found?.kind !== 'composed') return overlayData([], '');
  const { opening, curve, healthy, conditions } = found;
  const measured = opening.analysis.measured;
  const lines: OverlayLine[] = [
    { name: 'with sound modules', role: 'nameplate', curve: healthy, pmax: powerOf(healthy) },
    { name: 'composed of its modules', role: 'composed', curve, pmax: powerOf(curve) },
  ];
  if (measured)
    lines.push({
      name: `measured ${timeText(opening.time)}`,
      role: 'failed',
      curve: measured.curve,
      pmax: formatValue(measured.parameters.pmax, 'W'),
    });
  const at = `${formatValue(conditions.irradiance, 'W/m2')} and ${formatValue(conditions.cellTemperature, 'degC')}`;
  return overlayData(lines, `At ${at}`);
}

const powerOf = ({ voltage, current }: IvCurve): string =>
  formatValue(
    voltage.reduce((most, v, k) => Math.max(most, v * current[k]!), 0),
    'W',
  );

/** Sentences about the string that rest on more than its own sweeps: what was found, its peers, its years. */
function stringRemarks(evaluation: Evaluation, name: string): string[] {
  const composed = evaluation.compositions.get(name);
  const peers = evaluation.peerGroups.flatMap(({ members }) =>
    members
      .filter(({ string }) => string === name)
      .flatMap(({ standsOut }) => standsOut.map(({ text }) => text)),
  );
  const years = evaluation.history?.strings.find(({ string }) => string === name);
  return [
    ...(composed ? [composed.kind === 'composed' ? composed.text : composed.reason] : []),
    ...peers,
    ...(years ? [ageText(years)] : []),
    ...(years?.standsOut === undefined ? [] : [years.standsOut]),
  ];
}

function ageText({ refused, rates, years, formerly, string }: StringHistory): string {
  if (refused !== undefined) return refused;
  const { pmax } = rates;
  const since = `since ${years!.toFixed(1)} years${formerly === string ? '' : ` (then ${formerly})`}`;
  if (!pmax) return `No change of Pmax can be told ${since}.`;
  const uncertainty = pmax.uncertainty === undefined ? '' : ` ± ${(100 * pmax.uncertainty).toFixed(1)} %`;
  return `Pmax changed by ${formatDeviation(pmax.perYear)}${uncertainty} a year ${since}.`;
}
