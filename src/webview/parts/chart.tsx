import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { TopLevelSpec } from 'vega-lite';
import { ChartView, type DataSets } from '../chartView.js';
import { tellEditor } from '../editorHost.js';

export interface ChartProps {
  readonly spec: TopLevelSpec;
  readonly data: DataSets;
  /** Those of the specification that the host sets, by name. */
  readonly signals?: Readonly<Record<string, number>>;
  readonly description: string;
  /** The order of rows tells where their marks are; lines over an axis of numbers need none. */
  readonly ordered?: boolean;
  /** Of the chart, for the file that a picture is saved to. */
  readonly name: string;
  /** With the row that a clicked mark stands for. */
  readonly clicked?: (row: unknown) => void;
  /** The value of the horizontal axis under the pointer; undefined when it leaves. */
  readonly pointed?: (at: number | undefined) => void;
  /** The stretch of the horizontal axis that was drawn over; undefined: all of it again. */
  readonly stretched?: (between: readonly [number, number] | undefined) => void;
}

/** Less than this is a click, pixels. */
const leastDrag = 8;

/** A drawing for the eye; for the ear it is one picture with a description. */
export function Chart(props: ChartProps) {
  const { spec, data, description } = props;
  const element = useRef<HTMLDivElement>(null);
  const chart = useRef<ChartView>(undefined);
  const latest = useRef(props);
  latest.current = props;
  // In the same frame as the words of the page: after it, an edit would be painted twice, and its curves one frame late.
  useLayoutEffect(() => {
    const drawn = new ChartView(element.current!, props.ordered ?? false, (row) =>
      latest.current.clicked?.(row),
    );
    chart.current = drawn;
    const observer = new ResizeObserver(() => void drawn.resize());
    observer.observe(element.current!);
    return () => {
      observer.disconnect();
      drawn.dispose();
    };
  }, []);
  useLayoutEffect(() => {
    void chart.current?.show(spec, data, props.signals);
  });
  return (
    <div class="chart">
      <div class="drawn" role="img" aria-label={description}>
        <Drawing element={element} chart={chart} latest={latest} />
      </div>
      <Pictures chart={chart} name={props.name} />
    </div>
  );
}

interface Held<T> {
  readonly current: T;
}

/** The surface that the pointer reads off and draws over. */
function Drawing(props: {
  element: { current: HTMLDivElement | null };
  chart: Held<ChartView | undefined>;
  latest: Held<ChartProps>;
}) {
  const { element, chart, latest } = props;
  const [band, setBand] = useState<{ readonly from: number; readonly to: number }>();
  const at = (clientX: number): number | undefined => chart.current?.horizontalAt(clientX);
  const left = (clientX: number): number => clientX - element.current!.getBoundingClientRect().left;
  const finish = (): void => {
    if (!band) return;
    setBand(undefined);
    const offset = element.current!.getBoundingClientRect().left;
    const ends = [band.from, band.to].sort((a, b) => a - b).map((x) => at(x + offset));
    const [from, to] = ends;
    if (Math.abs(band.to - band.from) > leastDrag && from !== undefined && to !== undefined)
      latest.current.stretched?.([from, to]);
  };
  return (
    <div
      class={latest.current.stretched ? 'surface stretches' : 'surface'}
      onPointerMove={(event) => {
        latest.current.pointed?.(at(event.clientX));
        if (band) setBand({ ...band, to: left(event.clientX) });
      }}
      onPointerLeave={() => {
        latest.current.pointed?.(undefined);
        setBand(undefined);
      }}
      onPointerDown={(event) => {
        if (event.button !== 0 || !latest.current.stretched || at(event.clientX) === undefined) return;
        event.preventDefault();
        setBand({ from: left(event.clientX), to: left(event.clientX) });
      }}
      onPointerUp={finish}
      onDblClick={() => latest.current.stretched?.(undefined)}
    >
      <div class="drawing" ref={element} aria-hidden="true" />
      {band && (
        <div
          class="band"
          style={{ left: `${Math.min(band.from, band.to)}px`, width: `${Math.abs(band.to - band.from)}px` }}
        />
      )}
    </div>
  );
}

/** Takes the chart away as a drawing or as a picture. */
function Pictures({ chart, name }: { chart: Held<ChartView | undefined>; name: string }) {
  const copySvg = async (): Promise<void> => {
    const text = await chart.current?.svg();
    if (text) tellEditor({ type: 'copy', text });
  };
  const savePng = async (): Promise<void> => {
    const url = await chart.current?.png();
    if (!url) return;
    tellEditor({ type: 'save', name: `${fileWord(name)}.png`, base64: url.slice(url.indexOf(',') + 1) });
  };
  return (
    <p class="take">
      <button type="button" class="link" title="Copy this chart as SVG" onClick={() => void copySvg()}>
        Copy SVG
      </button>
      <button type="button" class="link" title="Save this chart as PNG" onClick={() => void savePng()}>
        Save PNG
      </button>
    </p>
  );
}

/** A name that every file system takes. */
const fileWord = (name: string): string => name.replace(/[^\w.-]+/g, '-').replace(/^-|-$/g, '');
