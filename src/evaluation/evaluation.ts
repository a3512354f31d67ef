/** Everything computed from a campaign: the one value that the editor, the panel, the command line and reports read. */
import type { CompositionResult } from '../cases/composition.js';
import type { History } from '../cases/history.js';
import type { PeerGroup } from '../cases/peers.js';
import type { StringCase } from '../cases/stringCase.js';
import type { CheckedSweep } from '../checks/check.js';
import type { CampaignFile } from '../campaign/campaignFile.js';
import type { Campaign, ParameterName } from '../campaign/model.js';
import type { ElectricalCounts, ElectricalTest } from '../electricalTests/electricalTest.js';
import type { FileProblem } from '../text/problem.js';
import type { FileContent, FileReader } from './ports.js';

export interface EvaluatedSweep extends CheckedSweep {
  /** Stable within one evaluation: `file:line` of the sweep, with `#n` behind it for sweeps of one table. */
  readonly id: string;
  /** Problems that belong to this sweep; they are in `Evaluation.problems` too. */
  readonly problems: readonly FileProblem[];
}

export interface VerdictCounts {
  readonly pass: number;
  readonly conditionalPass: number;
  readonly conditionalFail: number;
  readonly fail: number;
  readonly notJudged: number;
  readonly void: number;
}

/** What a campaign was computed from. */
export interface Sources extends Pick<FileReader, 'resolve' | 'displayName'> {
  readonly root: CampaignFile;
  /** What the host answered for each of the tables, by file. */
  readonly tables: ReadonlyMap<string, FileContent>;
}

export interface Evaluation {
  /** Counts up with every evaluation of one workbook. */
  readonly revision: number;
  readonly root: string;
  /** Root and includes, in reading order. */
  readonly files: readonly string[];
  /** CSV files that were asked for, readable or not: a host watches them. */
  readonly dataFiles: readonly string[];
  /** Absent where the root cannot be read. */
  readonly sources?: Sources;
  readonly campaign: Campaign;
  readonly sweeps: readonly EvaluatedSweep[];
  readonly counts: VerdictCounts;
  /** One for each string to which something happened, in the order of the campaign. */
  readonly cases: readonly StringCase[];
  /** By string, for those that failed and of which parts were swept. */
  readonly compositions: ReadonlyMap<string, CompositionResult>;
  /** Strings of one module type in one plane, compared among themselves; three and more. */
  readonly peerGroups: readonly PeerGroup[];
  /** Change of each string since the earlier campaign, where one is named and can be had. */
  readonly history?: History | undefined;
  /** Continuity, polarity, insulation and meter readings, in reading order. */
  readonly electricalTests: readonly ElectricalTest[];
  /** Of the electrical tests that no later one replaced; apart from the sweeps. */
  readonly electricalCounts: ElectricalCounts;
  /** By file, then line. */
  readonly problems: readonly FileProblem[];
}

export const parameterNames: readonly ParameterName[] = ['isc', 'voc', 'imp', 'vmp', 'pmax', 'ff'];
