import type { Evaluation } from '../evaluation/evaluation.js';
import type { CampaignModel, PreviewModel } from './previewTypes.js';

export type * from './previewTypes.js';

/** Everything that the panel and the page show of one sweep; undefined when no sweep has this id. */
export declare function previewModel(evaluation: Evaluation, sweepId: string): PreviewModel | undefined;
/** Everything that they show of the whole campaign. */
export declare function campaignModel(evaluation: Evaluation): CampaignModel;
/** The sweep that a line (from 0) of a file belongs to, or stands for best: for a panel that follows the cursor. */
export declare function sweepAt(evaluation: Evaluation, file: string, line: number): string | undefined;
