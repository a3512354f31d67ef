/** A campaign as a tree: sites, their planes, the strings on them, the sweeps of each. */
import { stringOf } from '../campaign/names.js';
import type { PlaneRecord, SiteRecord, StringRecord } from '../campaign/model.js';
import { isOpenState, type CaseState, type StringCase } from '../cases/stringCase.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import { stateMark } from './caseWords.js';
import { formatDeviation } from './formatNumber.js';
import { placeIn, type SourcePlace } from './sourcePlace.js';
import { timeText } from './sweepTexts.js';
import { verdictMark, type VerdictTone } from './verdictWords.js';

export interface TreeNode {
  /** Stable over evaluations. */
  readonly id: string;
  readonly kind: 'site' | 'plane' | 'string' | 'sweep';
  readonly label: string;
  /** A few words behind the label, with the mark of a verdict or a state. */
  readonly description: string;
  readonly tooltip: string;
  readonly tone?: VerdictTone;
  /** Where it is written. */
  readonly place?: SourcePlace;
  readonly children: readonly TreeNode[];
}

const needsWork = (state: CaseState): boolean => isOpenState(state) || state === 'not known';

export interface TreeOptions {
  /** Leave out strings whose case asks for nothing. */
  readonly onlyWork?: boolean;
}

/** Planes and sites without a string are left out; strings without a plane stand at the end. */
export function campaignTree(evaluation: Evaluation, { onlyWork = false }: TreeOptions = {}): TreeNode[] {
  const { campaign } = evaluation;
  const cases = new Map(evaluation.cases.map((each) => [each.string, each]));
  const sweeps = new Map<string, EvaluatedSweep[]>();
  for (const sweep of evaluation.sweeps) {
    const name = stringOf(sweep.address);
    const known = sweeps.get(name);
    if (known) known.push(sweep);
    else sweeps.set(name, [sweep]);
  }
  const byPlane = new Map<string, TreeNode[]>();
  for (const [name, placed] of campaign.strings) {
    const found = cases.get(name);
    if (onlyWork && !needsWork(found?.state ?? 'not known')) continue;
    const plane = placed.record.plane?.text ?? '';
    const node = stringNode(name, placed, found, sweeps.get(name) ?? []);
    byPlane.set(plane, [...(byPlane.get(plane) ?? []), node]);
  }
  const planes = [...byPlane].map(([name, strings]) => {
    const placed = campaign.planes.get(name);
    return {
      site: placed?.record.site?.text ?? onlySite(evaluation),
      node: planeNode(name, placed, strings),
    };
  });
  return [...new Set(planes.map(({ site }) => site))].map((site) =>
    siteNode(
      site,
      campaign.sites.get(site),
      planes.filter((plane) => plane.site === site).map(({ node }) => node),
    ),
  );
}

/** A plane that names none is of the only site there is. */
const onlySite = ({ campaign }: Evaluation): string =>
  campaign.sites.size === 1 ? [...campaign.sites.keys()][0]! : '';

type PlacedRecord<T extends StringRecord | PlaneRecord | SiteRecord> = {
  readonly record: T;
  readonly block: Parameters<typeof placeIn>[0];
};

function siteNode(
  name: string,
  placed: PlacedRecord<SiteRecord> | undefined,
  children: TreeNode[],
): TreeNode {
  return {
    id: `site ${name}`,
    kind: 'site',
    label: placed?.record.title ?? (name || 'No site'),
    description: '',
    tooltip: name === '' ? 'Strings whose site is not written.' : `Site ${name}`,
    place: placed && placeIn(placed.block, placed.record.headerRange),
    children,
  };
}

function planeNode(
  name: string,
  placed: PlacedRecord<PlaneRecord> | undefined,
  children: readonly TreeNode[],
): TreeNode {
  const count = `${children.length} ${children.length === 1 ? 'string' : 'strings'}`;
  return {
    id: `plane ${name}`,
    kind: 'plane',
    label: placed?.record.title ?? (name || 'No plane'),
    description: count,
    tooltip: name === '' ? 'Strings whose plane is not written.' : `Plane ${name}, ${count}`,
    place: placed && placeIn(placed.block, placed.record.headerRange),
    children,
  };
}

function stringNode(
  name: string,
  { record, block }: PlacedRecord<StringRecord>,
  found: StringCase | undefined,
  sweeps: readonly EvaluatedSweep[],
): TreeNode {
  const mark = stateMark(found?.state ?? 'not known');
  const latest = sweeps.findLast(
    ({ address, analysis }) => !address.includes('/') && analysis.verdict !== 'void',
  );
  const deviation = latest?.analysis.deviation.pmax;
  const power = deviation === undefined ? '' : `, Pmax ${formatDeviation(deviation)}`;
  return {
    id: `string ${name}`,
    kind: 'string',
    label: name,
    description: `${mark.symbol} ${mark.word}${power}`,
    tooltip: [mark.meaning, found?.proposal?.text ?? ''].join(' ').trim(),
    tone: mark.tone,
    place: placeIn(block, record.headerRange),
    children: sweeps.map(sweepNode),
  };
}

function sweepNode(sweep: EvaluatedSweep): TreeNode {
  const { verdict, deviation, reasons } = sweep.analysis;
  const mark = verdictMark(verdict);
  const power = deviation.pmax === undefined ? '' : `, Pmax ${formatDeviation(deviation.pmax)}`;
  return {
    id: `sweep ${sweep.address} ${sweep.time ?? sweep.id}`,
    kind: 'sweep',
    label: `${sweep.address} ${timeText(sweep.time)}`,
    description: `${mark.symbol} ${mark.word}${power}`,
    tooltip: reasons[0]?.text ?? mark.meaning,
    tone: mark.tone,
    place: { file: sweep.place.file, line: sweep.place.range.start.line },
    children: [],
  };
}
