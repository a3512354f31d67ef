import type { TopLevelSpec } from 'vega-lite';
import type { CampaignChartData, SweepChartData } from './chartData.js';
import type { ChartTheme } from './chartTheme.js';

export interface ChartSize {
  /** Pixels, or as wide as the element it is drawn in. */
  readonly width: number | 'container';
  readonly height?: number;
}

/** Data sets `curves` and `maxima`. With `data` they are inside the specification; without, the host sets them. */
export declare function currentVoltageSpec(
  theme: ChartTheme,
  size: ChartSize,
  data?: SweepChartData,
): TopLevelSpec;
export declare function powerVoltageSpec(
  theme: ChartTheme,
  size: ChartSize,
  data?: SweepChartData,
): TopLevelSpec;
/** Data set `sweeps`. */
export declare function campaignOverviewSpec(
  theme: ChartTheme,
  size: ChartSize,
  data?: CampaignChartData,
): TopLevelSpec;
