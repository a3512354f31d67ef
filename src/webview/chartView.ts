/**
 * One chart on the page. New rows go into the drawn chart; it is drawn anew only when its specification changes. Drawn by
 * the expression interpreter: the page's security policy forbids code made from strings.
 */
import { expressionInterpreter } from 'vega-interpreter';
import { compile, type TopLevelSpec } from 'vega-lite';
import { changeset, logger, parse, View, Warn, type Loader, type Mark } from 'vega';

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

/** Takes away the question at each point of a line whether it is one: it takes longer than to draw it, and rows have no gaps. */
function withoutGaps(marks: readonly Mark[] = []): void {
  for (const mark of marks) {
    delete mark.encode?.['update']?.defined;
    if (mark.type === 'group') withoutGaps(mark.marks);
  }
}

interface DrawnRow {
  readonly row: object;
  readonly text: string;
}

const texts = new WeakMap<object, string>();

/** Two charts draw the same rows. */
function textOf(row: object): string {
  const text = texts.get(row) ?? JSON.stringify(row);
  texts.set(row, text);
  return text;
}

/** Rows of the same content stay the same objects, as often as they are there. */
function changeOf(
  former: readonly DrawnRow[],
  rows: readonly object[],
): { readonly drawn: DrawnRow[]; readonly added: object[]; readonly removed: object[] } {
  const left = new Map<string, DrawnRow[]>();
  for (const each of former) {
    const same = left.get(each.text);
    if (same) same.push(each);
    else left.set(each.text, [each]);
  }
  const added: object[] = [];
  const drawn = rows.map((row) => {
    const text = textOf(row);
    const same = left.get(text)?.shift();
    if (!same) added.push(row);
    return same ?? { row, text };
  });
  return { drawn, added, removed: [...left.values()].flat().map(({ row }) => row) };
}

export class ChartView {
  readonly #element: HTMLElement;
  readonly #clicked: (row: unknown) => void;
  #view: View | undefined;
  #shape = '';
  /** What is drawn, by data set: rows that did not change cost no drawing. */
  readonly #rows = new Map<string, readonly DrawnRow[]>();
  readonly #isOrdered: boolean;

  /** @param isOrdered the order of rows tells where their marks are; where it tells nothing, rows that stay are left alone */
  constructor(element: HTMLElement, isOrdered: boolean, clicked: (row: unknown) => void) {
    this.#element = element;
    this.#isOrdered = isOrdered;
    this.#clicked = clicked;
  }

  async show(
    spec: TopLevelSpec,
    data: DataSets,
    signals: Readonly<Record<string, number>> = {},
  ): Promise<void> {
    const shape = JSON.stringify(spec);
    if (shape !== this.#shape || !this.#view) {
      this.#draw(spec);
      this.#shape = shape;
    }
    const view = this.#view!;
    for (const [name, value] of Object.entries(signals)) view.signal(name, value);
    for (const [name, rows] of Object.entries(data)) this.#replace(view, name, rows);
    await view.runAsync();
  }

  #replace(view: View, name: string, rows: readonly object[]): void {
    const former = this.#rows.get(name) ?? [];
    const { drawn, added, removed } = changeOf(former, rows);
    this.#rows.set(name, drawn);
    if (added.length === 0 && removed.length === 0 && drawn.every(({ row }, k) => row === former[k]?.row))
      return;
    if (this.#isOrdered) view.data(name, [...rows]);
    else view.change(name, changeset().remove(removed).insert(added));
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
    const program = compile(spec).spec;
    withoutGaps(program.marks);
    const runtime = parse(program, undefined, { ast: true });
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
