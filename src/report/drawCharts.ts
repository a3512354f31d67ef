/** Draws charts as SVG text without a browser: the same specifications as in the panel. */
import * as vega from 'vega';
import { expressionInterpreter } from 'vega-interpreter';
import { compile, type TopLevelSpec } from 'vega-lite';

/** What a drawn chart does not depend on but for its data, so that charts of one shape are compiled once. */
interface ChartSpec {
  readonly datasets?: Readonly<Record<string, readonly object[]>>;
  readonly description?: string;
}

/** Draws one chart after the other, and remembers the shapes it has met. */
export class ChartDrawer {
  readonly #views = new Map<string, vega.View>();

  async draw(spec: TopLevelSpec): Promise<string> {
    const { datasets = {}, description: _said, ...shape } = spec as TopLevelSpec & ChartSpec;
    const key = JSON.stringify(shape);
    const view = this.#views.get(key) ?? viewOf(shape as TopLevelSpec);
    this.#views.set(key, view);
    // Vega writes into the rows it is given.
    for (const [name, rows] of Object.entries(datasets))
      view.data(
        name,
        rows.map((row) => ({ ...row })),
      );
    await view.runAsync();
    return view.toSVG();
  }

  dispose(): void {
    for (const view of this.#views.values()) view.finalize();
    this.#views.clear();
  }
}

function viewOf(spec: TopLevelSpec): vega.View {
  const runtime = vega.parse(compile(spec).spec, undefined, { ast: true });
  return new vega.View(runtime, { renderer: 'none', expr: expressionInterpreter });
}

/** @param progress called before each chart; may give others their turn, and ends all by throwing */
export async function drawCharts(
  charts: readonly { readonly key: string; readonly spec: TopLevelSpec }[],
  progress?: (done: number, of: number) => void | Promise<void>,
): Promise<Map<string, string>> {
  const drawer = new ChartDrawer();
  const drawn = new Map<string, string>();
  try {
    for (const [index, { key, spec }] of charts.entries()) {
      await progress?.(index, charts.length);
      drawn.set(key, await drawer.draw(spec));
    }
  } finally {
    drawer.dispose();
  }
  return drawn;
}
