/**
 * Vega-Lite specifications of the curve charts. Deterministic, and free of expressions of our own, so that they run under
 * a content security policy that forbids code generation. Series differ by colour, by dash and by the shape of the
 * maximum power point; what the translation added is dotted.
 */
import type { TopLevelSpec } from 'vega-lite';
import { chartConfig, sizeOf, type ChartSize } from './chartFrame.js';
import { curveSeries, type SweepChartData } from './chartData.js';
import type { ChartTheme } from './chartTheme.js';

export type { ChartSize } from './chartFrame.js';
export { campaignOverviewSpec } from './overviewSpec.js';

/** Current over voltage. Data sets `curves` and `maxima`: inside with `data`, set by the host without. */
export function currentVoltageSpec(theme: ChartTheme, size: ChartSize, data?: SweepChartData): TopLevelSpec {
  return curveSpec(theme, size, data, {
    field: 'current',
    title: 'Current (A)',
    words: 'Current over voltage.',
    legend: 'bottom-left',
  });
}

/** Power over voltage, with the same data sets. */
export function powerVoltageSpec(theme: ChartTheme, size: ChartSize, data?: SweepChartData): TopLevelSpec {
  return curveSpec(theme, size, data, {
    field: 'power',
    title: 'Power (W)',
    words: 'Power over voltage.',
    legend: 'top-left',
  });
}

/** Of the maximum power points, in the order of `curveSeries`. */
const pointShapes = ['circle', 'diamond', 'square'] as const;

interface CurveAxis {
  readonly field: 'current' | 'power';
  readonly title: string;
  readonly words: string;
  /** The corner that such a curve leaves free. */
  readonly legend: 'bottom-left' | 'top-left';
}

function curveSpec(
  theme: ChartTheme,
  size: ChartSize,
  data: SweepChartData | undefined,
  axis: CurveAxis,
): TopLevelSpec {
  const domain = [...curveSeries];
  const colors = [theme.measured, theme.translated, theme.nameplate];
  // The legend shows pieces of line, long enough for their dashes.
  const legend = size.stacked
    ? null
    : ({
        title: null,
        orient: axis.legend,
        offset: 8,
        symbolType: 'stroke',
        symbolSize: 600,
        rowPadding: 3,
      } as const);
  const color = {
    field: 'series',
    type: 'nominal',
    scale: { domain, range: colors },
    legend,
  } as const;
  const strokeDash = {
    field: 'series',
    type: 'nominal',
    scale: {
      domain,
      range: [
        [5, 3],
        [1, 0],
        [9, 3, 2, 3],
      ],
    },
    legend,
  } as const;
  const x = {
    field: 'voltage',
    type: 'quantitative',
    title: size.stacked === 'upper' ? null : 'Voltage (V)',
    // The generating quadrant: what a translation puts left of it or below says nothing more.
    scale: { domainMin: 0, nice: true },
  } as const;
  const y = {
    field: axis.field,
    type: 'quantitative',
    title: axis.title,
    // Digits without separators, as in every other output.
    axis: { format: '~r', ...(size.stacked ? { minExtent: 46, maxExtent: 46 } : {}) },
    scale: { domainMin: 0, nice: true },
  } as const;
  const tooltip = [
    { field: 'series', type: 'nominal', title: 'Curve' },
    { field: 'voltage', type: 'quantitative', title: 'Voltage (V)', format: '.1f' },
    { field: 'current', type: 'quantitative', title: 'Current (A)', format: '.2f' },
    { field: 'power', type: 'quantitative', title: 'Power (W)', format: '.0f' },
  ] as const;
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    description: [axis.words, data?.description].filter(Boolean).join(' '),
    ...sizeOf(size, 240),
    ...(data ? { datasets: { curves: [...data.curves], maxima: [...data.maxima] } } : {}),
    layer: [
      {
        data: { name: 'curves' },
        transform: [{ filter: { field: 'part', equal: 'points' } }],
        mark: { type: 'line', strokeWidth: 1.75, aria: false },
        encoding: { x, y, color, strokeDash },
      },
      {
        data: { name: 'curves' },
        transform: [{ filter: { field: 'part', equal: 'continued' } }],
        mark: {
          type: 'line',
          strokeWidth: 1.75,
          strokeDash: [1.5, 3],
          strokeCap: 'round',
          aria: false,
        },
        encoding: { x, y, color },
      },
      ...curveSeries.map((series, index) => ({
        data: { name: 'maxima' },
        transform: [{ filter: { field: 'series', equal: series } }],
        mark: {
          type: 'point' as const,
          shape: pointShapes[index]!,
          filled: true,
          size: 80,
          opacity: 1,
          color: colors[index]!,
          stroke: theme.background,
          strokeWidth: 1,
        },
        encoding: { x, y, tooltip: [...tooltip] },
      })),
    ],
    config: chartConfig(theme),
  };
}
