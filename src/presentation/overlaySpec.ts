import type { TopLevelSpec } from 'vega-lite';
import { chartConfig, dataSet, sizeOf, type ChartSize } from './chartFrame.js';
import type { ChartTheme } from './chartTheme.js';
import type { OverlayData, OverlayRole } from './stringTypes.js';

/** In the order of the legend. */
export const overlayRoles: readonly OverlayRole[] = [
  'failed',
  'passed',
  'other',
  'nameplate',
  'composed',
  'before',
  'after',
];

export const overlayDashes: Readonly<Record<OverlayRole, readonly number[]>> = {
  failed: [5, 3],
  passed: [1, 0],
  other: [2, 3],
  nameplate: [9, 3, 2, 3],
  composed: [12, 4],
  before: [5, 3],
  after: [1, 0],
};

export function overlayColour(role: OverlayRole, theme: ChartTheme): string {
  const colours: Readonly<Record<OverlayRole, string>> = {
    failed: theme.bad,
    passed: theme.translated,
    other: theme.measured,
    nameplate: theme.nameplate,
    composed: theme.foreground,
    before: theme.measured,
    after: theme.translated,
  };
  return colours[role];
}

/** Many curves over one another, current over voltage. Data set `overlay`: inside with `data`, set by the host without. */
export function overlaySpec(theme: ChartTheme, size: ChartSize, data?: OverlayData): TopLevelSpec {
  const domain = [...overlayRoles];
  const quantity = (field: 'voltage' | 'current', title: string) =>
    ({
      field,
      type: 'quantitative',
      title,
      axis: { format: '~r' },
      scale: { domainMin: 0, nice: true },
    }) as const;
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    description: data?.description ?? 'Curves over one another.',
    ...sizeOf(size, 230),
    data: dataSet('overlay'),
    ...(data ? { datasets: { overlay: [...data.rows] } } : {}),
    mark: { type: 'line', strokeWidth: 1.6, aria: false },
    encoding: {
      x: quantity('voltage', 'Voltage (V)'),
      y: quantity('current', 'Current (A)'),
      detail: { field: 'series', type: 'nominal' },
      color: {
        field: 'role',
        type: 'nominal',
        scale: { domain, range: domain.map((role) => overlayColour(role, theme)) },
        legend: null,
      },
      strokeDash: {
        field: 'role',
        type: 'nominal',
        scale: { domain, range: domain.map((role) => [...overlayDashes[role]]) },
        legend: null,
      },
      tooltip: [
        { field: 'series', type: 'nominal', title: 'Curve' },
        { field: 'voltage', type: 'quantitative', title: 'Voltage (V)', format: '.1f' },
        { field: 'current', type: 'quantitative', title: 'Current (A)', format: '.2f' },
      ],
    },
    config: chartConfig(theme),
  };
}
