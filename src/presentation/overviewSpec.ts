import type { TopLevelSpec } from 'vega-lite';
import type { CampaignChartData } from './chartData.js';
import { chartConfig, sizeOf, type ChartSize } from './chartFrame.js';
import type { ChartTheme } from './chartTheme.js';
import { verdictOrder } from './verdictWords.js';

/** An open circle: the outer edge one way round, the inner the other. */
const ring = 'M0,-1A1,1,0,1,1,0,1A1,1,0,1,1,0,-1ZM0,-.5A.5,.5,0,1,0,0,.5A.5,.5,0,1,0,0,-.5Z';

/** Shapes in the order of `verdictOrder`: the marks of verdictWords.ts. */
export const verdictShapes = ['circle', 'triangle-up', 'diamond', 'square', ring, 'cross'];

const rowHeight = 18;

/**
 * Deviation of maximum power of each sweep: a mark with the whisker of its expanded uncertainty (or at the edge, with its
 * number, far beyond), and the limits of its criteria as ticks that join up to a line. Data sets
 * `sweeps` and `limits`: inside with `data`, set by the host without.
 */
export function campaignOverviewSpec(
  theme: ChartTheme,
  size: ChartSize,
  data?: CampaignChartData,
): TopLevelSpec {
  const y = {
    field: 'sweep',
    type: 'nominal',
    sort: null,
    title: null,
    axis: { grid: true, labelLimit: 190, domain: false, ticks: false, labelPadding: 6 },
  } as const;
  const x = (field: 'shown' | 'low' | 'limit') =>
    ({
      field,
      type: 'quantitative',
      title: 'Deviation of Pmax from nameplate (%)',
      scale: { zero: true, nice: true },
    }) as const;
  const domain = [...verdictOrder];
  const present = domain.filter((verdict) => data?.sweeps.some((row) => row.verdict === verdict) ?? true);
  const columns = typeof size.width === 'number' && size.width >= 520 ? verdictOrder.length : 2;
  const legend = {
    title: null,
    orient: 'top',
    direction: 'horizontal',
    columns,
    values: present,
    symbolSize: 70,
  } as const;
  const color = {
    field: 'verdict',
    type: 'nominal',
    scale: {
      domain,
      range: [theme.good, theme.doubtful, theme.doubtful, theme.bad, theme.neutral, theme.neutral],
    },
    legend,
  } as const;
  const shape = {
    field: 'verdict',
    type: 'nominal',
    scale: { domain, range: verdictShapes },
    legend,
  } as const;
  const limitTick = { type: 'tick', color: theme.limit, thickness: 1.5, bandSize: rowHeight } as const;
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    description: data?.description ?? 'Deviation of maximum power from nameplate for each sweep.',
    ...sizeOf(size, rowHeight),
    height: size.height ?? (data ? rowHeight * Math.max(1, data.sweeps.length) : { step: rowHeight }),
    data: { name: 'sweeps' },
    ...(data ? { datasets: { sweeps: [...data.sweeps], limits: [...data.limits] } } : {}),
    layer: [
      { mark: { type: 'rule', color: theme.muted, strokeWidth: 0.75 }, encoding: { x: { datum: 0 } } },
      { data: { name: 'limits' }, mark: limitTick, encoding: { x: x('limit'), y } },
      {
        mark: { type: 'rule', strokeWidth: 1.5 },
        encoding: { x: x('low'), x2: { field: 'high' }, y, color },
      },
      {
        mark: { type: 'point', filled: true, size: 70, opacity: 1 },
        encoding: {
          x: x('shown'),
          y,
          color,
          shape,
          tooltip: [
            { field: 'sweep', type: 'nominal', title: 'Sweep' },
            { field: 'deviation', type: 'quantitative', title: 'Deviation of Pmax (%)', format: '+.1f' },
            { field: 'verdict', type: 'nominal', title: 'Verdict' },
          ],
        },
      },
      {
        mark: { type: 'text', align: 'left', dx: 9, color: theme.foreground, fontSize: theme.fontSize },
        encoding: { x: x('shown'), y, text: { field: 'beyond', type: 'nominal' } },
      },
    ],
    config: chartConfig(theme),
  };
}
