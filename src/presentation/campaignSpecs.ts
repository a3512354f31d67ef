/** Charts of a whole campaign: where strings stand, and how their deviations are distributed. */
import type { TopLevelSpec } from 'vega-lite';
import type { CampaignChartData } from './chartData.js';
import { chartConfig, sizeOf, type ChartSize } from './chartFrame.js';
import type { ChartTheme } from './chartTheme.js';
import { verdictShapes } from './overviewSpec.js';
import type { MapRow } from './previewTypes.js';
import { verdictOrder } from './verdictWords.js';

/** Percent: a deviation beyond either end has the colour of the end. */
const shadedTo = 10;

/**
 * Strings at their places, north up as the campaign's own axes have it: the shape is the verdict, the shade the deviation
 * of Pmax. Data set `map`: inside with `rows`, set by the host without.
 */
export function arrayMapSpec(theme: ChartTheme, size: ChartSize, rows?: readonly MapRow[]): TopLevelSpec {
  const place = (field: 'x' | 'y', title: string) =>
    ({
      field,
      type: 'quantitative',
      title,
      axis: { format: '~r', tickCount: 5 },
      scale: { zero: false, nice: true, padding: 18 },
    }) as const;
  const at = { x: place('x', 'x (m)'), y: place('y', 'y (m)') };
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    description: 'Strings at their places on the array, shaded by the deviation of Pmax.',
    ...sizeOf(size, 220),
    data: { name: 'map' },
    ...(rows ? { datasets: { map: [...rows] } } : {}),
    layer: [
      {
        mark: {
          type: 'point',
          filled: true,
          size: 190,
          opacity: 1,
          stroke: theme.foreground,
          strokeWidth: 0.8,
        },
        encoding: {
          ...at,
          shape: {
            field: 'verdict',
            type: 'nominal',
            scale: { domain: [...verdictOrder], range: [...verdictShapes] },
            legend: null,
          },
          color: {
            field: 'deviation',
            type: 'quantitative',
            scale: {
              domain: [-shadedTo, 0, shadedTo],
              clamp: true,
              range: [theme.bad, theme.background, theme.translated],
              interpolate: 'rgb',
            },
            legend: {
              title: 'Pmax (%)',
              orient: 'top',
              gradientLength: 160,
              gradientThickness: 8,
              format: '+',
            },
          },
          tooltip: [
            { field: 'string', type: 'nominal', title: 'String' },
            { field: 'deviation', type: 'quantitative', title: 'Deviation of Pmax (%)', format: '+.1f' },
            { field: 'verdict', type: 'nominal', title: 'Verdict' },
            { field: 'state', type: 'nominal', title: 'Case' },
          ],
        },
      },
      {
        mark: { type: 'text', dy: 17, color: theme.foreground, fontSize: theme.fontSize },
        encoding: { ...at, text: { field: 'string', type: 'nominal' } },
      },
    ],
    config: chartConfig(theme),
  };
}

/** How many sweeps deviate by how much, with the limits. Data sets `sweeps` and `limits` as of the overview. */
export function distributionSpec(theme: ChartTheme, size: ChartSize, data?: CampaignChartData): TopLevelSpec {
  const domain = [...verdictOrder];
  const x = {
    field: 'shown',
    type: 'quantitative',
    bin: { maxbins: 30 },
    title: 'Deviation of Pmax from nameplate (%)',
    scale: { zero: true },
  } as const;
  const y = {
    aggregate: 'count',
    type: 'quantitative',
    stack: 'zero',
    title: 'Sweeps',
    axis: { tickMinStep: 1 },
  } as const;
  const order = { field: 'verdict', type: 'ordinal' } as const;
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    description: 'How many sweeps deviate by how much from the nameplate.',
    ...sizeOf(size, 150),
    data: { name: 'sweeps' },
    ...(data ? { datasets: { sweeps: [...data.sweeps], limits: [...data.limits] } } : {}),
    layer: [
      {
        mark: { type: 'bar', stroke: theme.background, strokeWidth: 1, aria: false },
        encoding: {
          x,
          y,
          order,
          color: {
            field: 'verdict',
            type: 'nominal',
            scale: {
              domain,
              range: [theme.good, theme.doubtful, theme.doubtful, theme.bad, theme.neutral, theme.neutral],
            },
            legend: null,
          },
          tooltip: [
            { field: 'verdict', type: 'nominal', title: 'Verdict' },
            { aggregate: 'count', type: 'quantitative', title: 'Sweeps' },
          ],
        },
      },
      // The mark of the verdict in the middle of its bar: colour is not all that tells them apart.
      {
        mark: { type: 'text', color: theme.background, baseline: 'middle', aria: false },
        encoding: {
          x: { ...x, bandPosition: 0.5 },
          y: { ...y, bandPosition: 0.5 },
          order,
          detail: { field: 'verdict', type: 'nominal' },
          text: { field: 'symbol', type: 'nominal' },
        },
      },
      {
        data: { name: 'limits' },
        mark: { type: 'rule', color: theme.limit, strokeWidth: 1.2, strokeDash: [4, 2] },
        encoding: { x: { aggregate: 'min', field: 'limit', type: 'quantitative' } },
      },
    ],
    config: chartConfig(theme),
  };
}
