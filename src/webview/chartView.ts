/**
 * One chart on the page. New rows go into the drawn chart; it is drawn anew only when its specification changes. Drawn by
 * the expression interpreter: the page's security policy forbids code made from strings.
 */
import { expressionInterpreter } from 'vega-interpreter';
import { compile, type TopLevelSpec } from 'vega-lite';
import { logger, parse, View, Warn, type Loader } from 'vega';

export type DataSets = Readonly<Record<string, readonly object[]>>;

/** Nothing is ever fetched. */
const noLoader: Loader = {
  load: () => Promise.reject(new Error('The panel loads nothing from outside.')),
  sanitize: () => Promise.reject(new Error('The panel links to nothing outside.')),
  http: () => Promise.reject(new Error('The panel loads nothing from outside.')),
  file: () => Promise.reject(new Error('The panel loads nothing from outside.')),
};

/** Of everything but a data set without rows, such as that of a pointer that is elsewhere: it has no extent, and needs none. */
const complaints = () =>
  logger(Warn, undefined, (method, level, [first, ...more]) => {
    if (typeof first === 'string' && first.startsWith('Infinite extent')) return;
    // eslint-disable-next-line no-console -- the console of the page is where whoever mends the charts looks
    console[method](level, first, ...more);
  });

export class ChartView {
  readonly #element: HTMLElement;
  readonly #clicked: (row: unknown) => void;
  #view: View | undefined;
  #shape = '';
  /** The rows that are drawn, as text: what did not change costs no drawing. */
  readonly #rows = new Map<string, string>();

  constructor(element: HTMLElement, clicked: (row: unknown) => void) {
    this.#element = element;
    this.#clicked = clicked;
  }

  async show(spec: TopLevelSpec, data: DataSets): Promise<void> {
    const shape = JSON.stringify(spec);
    if (shape !== this.#shape || !this.#view) {
      this.#draw(spec);
      this.#shape = shape;
    }
    const view = this.#view!;
    for (const [name, rows] of Object.entries(data)) {
      const written = JSON.stringify(rows);
      if (this.#rows.get(name) === written) continue;
      this.#rows.set(name, written);
      view.data(name, [...rows]);
    }
    await view.runAsync();
  }

  /** The value of the horizontal axis under a place of the window; undefined outside the plot or before it is drawn. */
  horizontalAt(clientX: number): number | undefined {
    const svg = this.#element.querySelector('svg');
    if (!this.#view || !svg) return undefined;
    const scale = this.#view.scale('x') as { invert?: (at: number) => number } | undefined;
    const at = clientX - svg.getBoundingClientRect().left - this.#view.origin()[0]!;
    return at < 0 || at > this.#view.width() ? undefined : scale?.invert?.(at);
  }

  /** A drawing of its own, to be put into a document. */
  async svg(): Promise<string> {
    return this.#view ? await this.#view.toSVG() : '';
  }

  /** A picture of twice the pixels on the screen, as a data URL. */
  async png(): Promise<string> {
    return this.#view ? await this.#view.toImageURL('png', 2) : '';
  }

  /** After the element has another width. */
  async resize(): Promise<void> {
    await this.#view?.resize().runAsync();
  }

  #draw(spec: TopLevelSpec): void {
    const runtime = parse(compile(spec).spec, undefined, { ast: true });
    this.#view?.finalize();
    this.#rows.clear();
    this.#element.replaceChildren();
    this.#view = new View(runtime, {
      container: this.#element,
      renderer: 'svg',
      hover: true,
      expr: expressionInterpreter,
      loader: noLoader,
      logger: complaints(),
    });
    this.#view.addEventListener('click', (_event, item) => {
      if (item?.datum) this.#clicked(item.datum);
    });
  }

  dispose(): void {
    this.#view?.finalize();
    this.#view = undefined;
    this.#shape = '';
    this.#rows.clear();
  }
}
