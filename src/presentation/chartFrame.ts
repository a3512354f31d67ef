/** What every chart shares: its size, and the look taken from the host's theme. */
import type { Config } from 'vega-lite';
import type { ChartTheme } from './chartTheme.js';

export interface ChartSize {
  /** Of the plot in pixels, or as wide as the element it is drawn in. */
  readonly width: number | 'container';
  readonly height?: number;
  /**
   * The host stacks two charts over one horizontal axis and gives them one legend of its own: both plots begin at the
   * same place, and the upper one leaves the title of the horizontal axis to the lower.
   */
  readonly stacked?: 'upper' | 'lower';
  /**
   * The host says where the axes end, by the signals `right` (V) and `top`: stacked charts of unlike data keep one axis, and rows that
   * change do not move it, so that what stays of a drawn chart is not computed anew.
   */
  readonly endsByHost?: boolean;
  /** Only this part of the horizontal axis, V; the host leaves out the points beyond. */
  readonly between?: readonly [number, number];
}

export function sizeOf(size: ChartSize, height: number) {
  return {
    width: size.width,
    height: size.height ?? height,
    autosize: { type: 'fit-x', contains: 'padding' },
    padding: 4,
  } as const;
}

/** A data set that a host sets. Its rows hold numbers and words as they are drawn: nothing is read from text. */
export const dataSet = (name: string) => ({ name, format: { parse: null } }) as const;

export function chartConfig(theme: ChartTheme): Config {
  return {
    background: theme.background,
    font: theme.fontFamily,
    view: { stroke: theme.muted, strokeWidth: 0.5 },
    axis: {
      labelColor: theme.foreground,
      titleColor: theme.foreground,
      titleFontWeight: 'normal',
      labelFontSize: theme.fontSize,
      titleFontSize: theme.fontSize,
      gridColor: theme.grid,
      domainColor: theme.muted,
      tickColor: theme.muted,
      tickCount: 6,
      titlePadding: 6,
    },
    legend: {
      labelColor: theme.foreground,
      labelFontSize: theme.fontSize,
      labelLimit: 220,
      symbolStrokeWidth: 1.75,
    },
  };
}
