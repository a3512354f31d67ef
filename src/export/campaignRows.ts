/** The rows of each table, from one evaluated campaign. */
import { stringOf } from '../campaign/names.js';
import type { ElectricalTest } from '../electricalTests/electricalTest.js';
import type { ModuleRecord, Placed, ReplaceRecord, StringRecord } from '../campaign/model.js';
import { latestOf } from '../campaign/moment.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import type { Figure } from '../diagnosis/diagnosis.js';

/** What is exported: a campaign, and how its files are called outside. */
export interface ExportSource {
  readonly evaluation: Evaluation;
  readonly display: (file: string) => string;
  /** Of the program. */
  readonly version: string;
}

/** `display` is asked once for each file: every row of every table names some. */
export function exportSource(
  evaluation: Evaluation,
  display: (file: string) => string,
  version: string,
): ExportSource {
  const names = new Map<string, string>();
  const remembered = (file: string): string => {
    let name = names.get(file);
    if (name === undefined) names.set(file, (name = display(file)));
    return name;
  };
  return { evaluation, display: remembered, version };
}

export interface StringRow {
  readonly source: ExportSource;
  readonly name: string;
  readonly record: StringRecord;
  readonly module?: ModuleRecord;
  /** Of the whole string, void ones left out; the last in time. */
  readonly latest?: EvaluatedSweep;
  readonly sweeps: number;
  readonly caseState?: string;
}

export interface SweepRow {
  readonly source: ExportSource;
  readonly sweep: EvaluatedSweep;
}

export interface PointRow extends SweepRow {
  readonly curve: 'measured' | 'translated';
  /** From 1. */
  readonly point: number;
  readonly voltage: number;
  readonly current: number;
  readonly irradiance?: number;
  readonly temperature?: number;
}

export interface FindingRow extends SweepRow {
  readonly source: ExportSource;
  readonly kind: 'reason' | 'finding' | 'cause' | 'flag';
  /** From 1, within the sweep. */
  readonly number: number;
  readonly code: string;
  readonly about?: string;
  readonly parameter?: string;
  readonly text: string;
  readonly decisive?: boolean;
  readonly share?: number;
  readonly figure?: Figure;
}

export interface ElectricalRow {
  readonly source: ExportSource;
  readonly test: ElectricalTest;
}

export interface ReplacementRow {
  readonly source: ExportSource;
  readonly placed: Placed<ReplaceRecord>;
}

/** Name of the campaign's root file: what tells campaigns apart in an export. */
export const campaignId = ({ evaluation, display }: ExportSource): string => display(evaluation.root);

/** `harrow-fen/campaign.sweepbook:41`, with `#n` behind it for sweeps of one table. */
export const sweepId = ({ source: { display }, sweep: { id, block } }: SweepRow): string =>
  display(block.file) + id.slice(block.file.length);

export function stringRows(source: ExportSource): StringRow[] {
  const { campaign, sweeps } = source.evaluation;
  const byString = new Map<string, EvaluatedSweep[]>();
  for (const sweep of sweeps) {
    const name = stringOf(sweep.address);
    const known = byString.get(name);
    if (known) known.push(sweep);
    else byString.set(name, [sweep]);
  }
  const states = new Map(source.evaluation.cases.map(({ string, state }) => [string, state]));
  return [...campaign.strings].map(([name, { record }]) => {
    const own = byString.get(name) ?? [];
    const type = record.modules?.type.text;
    return {
      source,
      name,
      record,
      module: type === undefined ? undefined : campaign.modules.get(type)?.record,
      latest: latestOf(
        own.filter(({ address, analysis }) => address === name && analysis.verdict !== 'void'),
      ),
      sweeps: own.length,
      caseState: states.get(name),
    };
  });
}

export function sweepRows(source: ExportSource): SweepRow[] {
  return source.evaluation.sweeps.map((sweep) => ({ source, sweep }));
}

/** The points as read, and those of the translated curve. */
export function pointRows(source: ExportSource): PointRow[] {
  const rows: PointRow[] = [];
  for (const sweep of source.evaluation.sweeps) {
    const { reading, analysis } = sweep;
    if (reading) {
      const { curve, irradiance, temperature } = reading;
      curve.voltage.forEach((voltage, index) =>
        rows.push({
          source,
          sweep,
          curve: 'measured',
          point: index + 1,
          voltage,
          current: curve.current[index]!,
          irradiance: irradiance?.[index],
          temperature: temperature?.[index],
        }),
      );
    }
    const translated = analysis.translated?.curve;
    translated?.voltage.forEach((voltage, index) =>
      rows.push({
        source,
        sweep,
        curve: 'translated',
        point: index + 1,
        voltage,
        current: translated.current[index]!,
      }),
    );
  }
  return rows;
}

/** Reasons of the verdict, what the shape shows and what may cause it, and flags of the curves. */
export function findingRows(source: ExportSource): FindingRow[] {
  return source.evaluation.sweeps.flatMap((sweep) => {
    const { analysis, diagnosis } = sweep;
    const found: Omit<FindingRow, 'source' | 'sweep' | 'number'>[] = [
      ...analysis.reasons.map(({ code, text, parameter, decisive }) => ({
        kind: 'reason' as const,
        code,
        text,
        parameter,
        decisive,
      })),
      ...(diagnosis?.findings ?? []).map(({ kind, text, figures }) => ({
        kind: 'finding' as const,
        code: kind,
        text,
        figure: figures[0],
      })),
      ...(diagnosis?.causes ?? []).map(({ code, about, text, share, figures }) => ({
        kind: 'cause' as const,
        code,
        about,
        text,
        share,
        figure: figures[0],
      })),
      ...(['measured', 'translated'] as const).flatMap((curve) =>
        (analysis[curve]?.flags ?? []).map(({ code, text }) => ({
          kind: 'flag' as const,
          code,
          about: curve,
          text,
        })),
      ),
    ];
    return found.map((each, index) => ({ ...each, source, sweep, number: index + 1 }));
  });
}

export function electricalRows(source: ExportSource): ElectricalRow[] {
  return source.evaluation.electricalTests.map((test) => ({ source, test }));
}

export function replacementRows(source: ExportSource): ReplacementRow[] {
  return source.evaluation.campaign.entries.flatMap(({ record, block }) =>
    record.kind === 'replace' ? [{ source, placed: { record, block } }] : [],
  );
}
