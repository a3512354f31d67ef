import { useEffect, useRef } from 'preact/hooks';
import type { TopLevelSpec } from 'vega-lite';
import { currentVoltageSpec, powerVoltageSpec } from '../../presentation/chartSpecs.js';
import type { ChartTheme } from '../../presentation/chartTheme.js';
import type { PreviewModel } from '../../presentation/previewTypes.js';
import { ChartView, type DataSets } from '../chartView.js';
import { tellEditor } from '../editorHost.js';
import { CurveKey } from './curveKey.js';

/** Height of each plot; the space is kept before anything is drawn, so that nothing jumps. */
const plotHeight = 190;

export function Curves({ sweep, theme }: { sweep: PreviewModel; theme: ChartTheme }) {
  const { charts, place } = sweep;
  if (charts.curves.length === 0) return <p class="nothing">There is no curve to draw.</p>;
  const size = { width: 'container', height: plotHeight } as const;
  const data = { curves: charts.curves, maxima: charts.maxima };
  const reveal = (): void => tellEditor({ type: 'reveal', place, focus: false });
  return (
    <section class="curves" aria-label="Curves">
      <CurveKey sweep={sweep} />
      <Chart
        spec={currentVoltageSpec(theme, { ...size, stacked: 'upper' })}
        data={data}
        description={`Current over voltage. ${charts.description}`}
        clicked={reveal}
      />
      <Chart
        spec={powerVoltageSpec(theme, { ...size, stacked: 'lower' })}
        data={data}
        description={`Power over voltage. ${charts.description}`}
        clicked={reveal}
      />
    </section>
  );
}

export interface ChartProps {
  readonly spec: TopLevelSpec;
  readonly data: DataSets;
  readonly description: string;
  /** With the row that a clicked mark stands for. */
  readonly clicked: (row: unknown) => void;
}

/** A drawing for the eye; for the ear it is one picture with a description. */
export function Chart({ spec, data, description, clicked }: ChartProps) {
  const element = useRef<HTMLDivElement>(null);
  const chart = useRef<ChartView>(undefined);
  const latestClicked = useRef(clicked);
  latestClicked.current = clicked;
  useEffect(() => {
    const drawn = new ChartView(element.current!, (row) => latestClicked.current(row));
    chart.current = drawn;
    const observer = new ResizeObserver(() => void drawn.resize());
    observer.observe(element.current!);
    return () => {
      observer.disconnect();
      drawn.dispose();
    };
  }, []);
  useEffect(() => {
    void chart.current?.show(spec, data);
  });
  return (
    <div class="chart" role="img" aria-label={description}>
      <div class="drawing" ref={element} aria-hidden="true" />
    </div>
  );
}
