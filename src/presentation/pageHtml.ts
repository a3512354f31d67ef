import type { TopLevelSpec } from 'vega-lite';
import type { Evaluation } from '../evaluation/evaluation.js';
import type { CampaignModel, PreviewModel } from './previewTypes.js';

export interface PageModel {
  readonly campaign: CampaignModel;
  readonly sweeps: readonly PreviewModel[];
  readonly display: (file: string) => string;
  /** Of the program. */
  readonly version: string;
}

export interface PageChart {
  readonly key: string;
  readonly spec: TopLevelSpec;
}

export declare function pageModel(
  evaluation: Evaluation,
  display: (file: string) => string,
  version: string,
): PageModel;
/** The charts the page shows; the host draws each as SVG and passes the texts to `campaignPage` by key. */
export declare function pageCharts(model: PageModel): PageChart[];
export declare function campaignPage(model: PageModel, svgByChart: ReadonlyMap<string, string>): string;
