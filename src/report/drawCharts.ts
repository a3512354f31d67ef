/** Draws charts as SVG text without a browser: the same specifications as in the panel. */
import * as vega from 'vega';
import { expressionInterpreter } from 'vega-interpreter';
import { compile, type TopLevelSpec } from 'vega-lite';

/** What a drawn chart does not depend on but for its data, so that charts of one shape are compiled once. */
interface ChartSpec {
  readonly datasets?: Readonly<Record<string, readonly object[]>>;
  readonly description?: string;
}

/** A compiled shape, and the data sets that it draws: Vega-Lite leaves out those of which a layer makes no use. */
interface Shape {
  readonly view: vega.View;
  readonly draws: ReadonlySet<string>;
}

/** Draws one chart after the other, and remembers the shapes it has met. */
class ChartDrawer {
  readonly #shapes = new Map<string, Shape>();

  async draw(spec: TopLevelSpec): Promise<string> {
    const { datasets = {}, description: _said, ...shape } = spec as TopLevelSpec & ChartSpec;
    const key = JSON.stringify(shape);
    const { view, draws } = this.#shapes.get(key) ?? shapeOf(shape as TopLevelSpec);
    this.#shapes.set(key, { view, draws });
    for (const [name, rows] of Object.entries(datasets)) {
      // Vega writes into the rows it is given.
      if (draws.has(name))
        view.data(
          name,
          rows.map((row) => ({ ...row })),
        );
    }
    await view.runAsync();
    return view.toSVG();
  }

  dispose(): void {
    for (const { view } of this.#shapes.values()) view.finalize();
    this.#shapes.clear();
  }
}

function shapeOf(spec: TopLevelSpec): Shape {
  const compiled = compile(spec).spec;
  const runtime = vega.parse(compiled, undefined, { ast: true });
  const view = new vega.View(runtime, { renderer: 'none', expr: expressionInterpreter });
  return { view, draws: new Set(compiled.data?.map(({ name }) => name)) };
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
