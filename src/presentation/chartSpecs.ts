/**
 * Vega-Lite specifications of the curve charts. Deterministic, and free of expressions of our own, so that they run under
 * a content security policy that forbids code generation. Series differ by colour, by dash and by the shape of the
 * maximum power point; what the translation added is dotted.
 */
import type { TopLevelSpec } from 'vega-lite';
import { chartConfig, dataSet, sizeOf, type ChartSize } from './chartFrame.js';
import { curveSeries, type SweepChartData } from './chartData.js';
import type { ChartTheme } from './chartTheme.js';

export type { ChartSize } from './chartFrame.js';
export { arrayMapSpec, distributionSpec } from './campaignSpecs.js';
export { overlaySpec } from './overlaySpec.js';
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
  const x = voltageAxis(size);
  const y = {
    field: axis.field,
    type: 'quantitative',
    title: axis.title,
    axis: verticalAxis(size),
    scale: size.between ? { zero: false, nice: true } : fromZero(size, 'top'),
  } as const;
  const clip = size.between !== undefined;
  const tooltip = [
    { field: 'series', type: 'nominal', title: 'Curve' },
    { field: 'voltage', type: 'quantitative', title: 'Voltage (V)', format: '.1f' },
    { field: 'current', type: 'quantitative', title: 'Current (A)', format: '.2f' },
    { field: 'power', type: 'quantitative', title: 'Power (W)', format: '.0f' },
  ] as const;
  const findingLayer = (nearAxis: boolean) => ({
    data: dataSet('findings'),
    transform: [{ filter: { field: 'nearAxis', equal: nearAxis } }],
    mark: {
      type: 'text' as const,
      clip,
      ...(nearAxis ? { dx: 6, dy: -9, align: 'left' as const } : { dx: -9, dy: 12 }),
      fontWeight: 'bold' as const,
      fontSize: theme.fontSize + 1,
      color: theme.foreground,
    },
    encoding: { x, y, text: { field: 'mark', type: 'nominal' as const } },
  });
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    description: [axis.words, data?.description].filter(Boolean).join(' '),
    ...sizeOf(size, 240),
    ...endSignals(size),
    ...(data
      ? { datasets: { curves: [...data.curves], maxima: [...data.maxima], findings: [...data.findings] } }
      : {}),
    layer: [
      {
        data: dataSet('curves'),
        transform: [{ filter: { field: 'part', equal: 'points' } }],
        mark: { type: 'line', strokeWidth: 1.75, clip, aria: false },
        encoding: { x, y, color, strokeDash },
      },
      {
        data: dataSet('curves'),
        transform: [{ filter: { field: 'part', equal: 'continued' } }],
        mark: {
          type: 'line',
          strokeWidth: 1.75,
          clip,
          strokeDash: [1.5, 3],
          strokeCap: 'round',
          aria: false,
        },
        encoding: { x, y, color },
      },
      ...curveSeries.map((series, index) => ({
        data: dataSet('maxima'),
        transform: [{ filter: { field: 'series', equal: series } }],
        mark: {
          type: 'point' as const,
          shape: pointShapes[index]!,
          filled: true,
          size: 80,
          opacity: 1,
          clip,
          color: colors[index]!,
          stroke: theme.background,
          strokeWidth: 1,
        },
        encoding: { x, y, tooltip: [...tooltip] },
      })),
      // An empty data set has no extent; a written chart leaves it out.
      ...(data?.findings.length === 0 ? [] : [findingLayer(false), findingLayer(true)]),
      ...pointerLayer(data, x),
    ],
    config: chartConfig(theme),
  };
}

/** The generating quadrant: what a translation puts left of it or below says nothing more. */
function voltageAxis(size: ChartSize) {
  return {
    field: 'voltage',
    type: 'quantitative',
    title: size.stacked === 'upper' ? null : 'Voltage (V)',
    scale: size.between ? { domain: [...size.between], nice: false } : fromZero(size, 'right'),
  } as const;
}

const fromZero = ({ endsByHost }: ChartSize, end: 'right' | 'top') =>
  endsByHost ? { domain: [0, { expr: end }], nice: true } : { domainMin: 0, nice: true };

const endSignals = ({ endsByHost }: ChartSize) =>
  endsByHost
    ? {
        params: [
          { name: 'right', value: 1 },
          { name: 'top', value: 1 },
        ],
      }
    : {};

/** Digits without separators, as in every other output; as wide as that of the chart it is stacked with. */
const verticalAxis = (size: ChartSize) => ({
  format: '~r',
  ...(size.stacked ? { minExtent: 46, maxExtent: 46 } : {}),
});

/** Where a host reads off: its data set `pointer` has one row or none. A written chart has none. */
function pointerLayer(data: unknown, x: ReturnType<typeof voltageAxis>) {
  if (data !== undefined) return [];
  return [
    {
      data: dataSet('pointer'),
      mark: { type: 'rule' as const, strokeWidth: 1, strokeDash: [2, 2], clip: true, aria: false },
      encoding: { x },
    },
  ];
}

/**
 * Measured less expected current over voltage, at the conditions of the sweep. Data set `differences`: inside with
 * `data`, set by the host without. `dash` and colour are those of the measured curve.
 */
export function differenceSpec(theme: ChartTheme, size: ChartSize, data?: SweepChartData): TopLevelSpec {
  const x = voltageAxis(size);
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    description: 'Measured less expected current over voltage.',
    ...sizeOf(size, 110),
    ...endSignals(size),
    ...(data ? { datasets: { differences: [...data.differences] } } : {}),
    layer: [
      {
        data: { values: [{}] },
        mark: { type: 'rule', color: theme.muted, strokeWidth: 0.75 },
        encoding: { y: { datum: 0 } },
      },
      {
        data: dataSet('differences'),
        mark: { type: 'line', strokeWidth: 1.5, color: theme.measured, clip: true, aria: false },
        encoding: {
          x,
          y: {
            field: 'difference',
            type: 'quantitative',
            title: 'Difference (A)',
            axis: { ...verticalAxis(size), tickCount: 4 },
            scale: { zero: true, nice: true },
          },
        },
      },
      ...pointerLayer(data, x),
    ],
    config: chartConfig(theme),
  };
}
