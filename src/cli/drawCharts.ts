/**
 * Draws charts as SVG text without a browser: the same specifications as in the panel. Loaded only by the commands that
 * draw: no other waits for the largest of all libraries.
 */
import * as vega from 'vega';
import { expressionInterpreter } from 'vega-interpreter';
import { compile } from 'vega-lite';
import type { PageChart } from '../presentation/pageHtml.js';

export async function drawCharts(charts: readonly PageChart[]): Promise<Map<string, string>> {
  const drawn = new Map<string, string>();
  for (const { key, spec } of charts) {
    const runtime = vega.parse(compile(spec).spec, undefined, { ast: true });
    const view = new vega.View(runtime, { renderer: 'none', expr: expressionInterpreter });
    drawn.set(key, await view.toSVG());
    view.finalize();
  }
  return drawn;
}
