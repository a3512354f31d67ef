/** The editor's theme for the charts, read from the CSS variables that the editor sets on the page. */
import type { ChartTheme } from '../presentation/chartTheme.js';

/** The colours are named in preview.css, where each falls back from one theme variable to the next. */
export function readChartTheme(): ChartTheme {
  const styles = getComputedStyle(document.body);
  const colour = (name: string): string => resolveColour(styles.getPropertyValue(`--sb-${name}`).trim());
  return {
    background: colour('background'),
    foreground: colour('foreground'),
    muted: colour('muted'),
    grid: colour('grid'),
    measured: colour('measured'),
    translated: colour('translated'),
    nameplate: colour('nameplate'),
    limit: colour('limit'),
    good: colour('good'),
    doubtful: colour('doubtful'),
    bad: colour('bad'),
    neutral: colour('neutral'),
    fontFamily: styles.fontFamily,
    fontSize: Math.max(10, Math.round(parseFloat(styles.fontSize) * 0.88)),
  };
}

/** `color-mix(…)` and the like, as a colour that a drawing library understands. */
function resolveColour(value: string): string {
  const probe = document.createElement('span');
  probe.style.color = value;
  document.body.append(probe);
  const computed = getComputedStyle(probe).color;
  probe.remove();
  const srgb = /^color\(srgb ([\d.]+) ([\d.]+) ([\d.]+)(?: \/ ([\d.]+))?\)$/.exec(computed);
  if (!srgb) return computed;
  const [red, green, blue] = srgb.slice(1, 4).map((part) => Math.round(Number(part) * 255));
  return `rgba(${red}, ${green}, ${blue}, ${srgb[4] ?? 1})`;
}

/** Calls back when the editor's theme or its text size changes. */
export function onThemeChange(changed: () => void): void {
  const observer = new MutationObserver(changed);
  observer.observe(document.body, { attributes: true, attributeFilter: ['class', 'data-vscode-theme-id'] });
  observer.observe(document.documentElement, { attributes: true, attributeFilter: ['style'] });
}
