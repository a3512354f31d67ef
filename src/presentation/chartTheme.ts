/** What a chart takes from its host: colours as CSS colours, and type. */
export interface ChartTheme {
  readonly background: string;
  readonly foreground: string;
  /** Axis lines and small print. */
  readonly muted: string;
  readonly grid: string;
  readonly measured: string;
  readonly translated: string;
  readonly nameplate: string;
  /** Limits of the criteria. */
  readonly limit: string;
  readonly good: string;
  readonly doubtful: string;
  readonly bad: string;
  readonly neutral: string;
  readonly fontFamily: string;
  /** In pixels. */
  readonly fontSize: number;
}

/**
 * For the written page. The three curve colours differ in lightness as well as in hue, and each has a contrast of at
 * least 3:1 with white (WCAG 2.2, 1.4.11); a test computes both.
 */
export const lightTheme: ChartTheme = {
  background: '#ffffff',
  foreground: '#1d2733',
  muted: '#5b6875',
  grid: '#e3e8ed',
  measured: '#6a7a89',
  translated: '#0b4f8a',
  nameplate: '#b4560f',
  limit: '#a3182c',
  good: '#1f6f43',
  doubtful: '#8a5a00',
  bad: '#a3182c',
  neutral: '#5b6875',
  fontFamily: '"Liberation Sans", Arial, Helvetica, sans-serif',
  fontSize: 11,
};
