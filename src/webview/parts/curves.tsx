import { useEffect, useState } from 'preact/hooks';
import type { CurveRow, DifferenceRow } from '../../presentation/chartData.js';
import type { ChartSize } from '../../presentation/chartFrame.js';
import { currentVoltageSpec, differenceSpec, powerVoltageSpec } from '../../presentation/chartSpecs.js';
import type { ChartTheme } from '../../presentation/chartTheme.js';
import type { PreviewModel } from '../../presentation/previewTypes.js';
import { tellEditor } from '../editorHost.js';
import { Chart } from './chart.js';
import { CurveKey } from './curveKey.js';
import { useHidden } from './hidden.js';
import { ReadOff } from './readOff.js';

/** Heights of the plots; the space is kept before anything is drawn, so that nothing jumps. */
const plotHeight = 190;
const differenceHeight = 90;

type Between = readonly [number, number];

export function Curves({ sweep, theme }: { sweep: PreviewModel; theme: ChartTheme }) {
  const { charts, place, address } = sweep;
  const [hidden, toggle] = useHidden();
  const [between, setBetween] = useState<Between>();
  const [pointer, setPointer] = useState<number>();
  // Another device has other voltages.
  useEffect(() => setBetween(undefined), [address]);
  if (charts.curves.length === 0) return <p class="nothing">There is no curve to draw.</p>;

  const right = axisEnd(charts.curves, 'voltage');
  const size: ChartSize = {
    width: 'container',
    height: plotHeight,
    endsByHost: true,
    ...(between ? { between } : {}),
  };
  const curves = withinStretch(charts.curves, between).filter(({ series }) => !hidden.has(series));
  const marks = {
    maxima: withinStretch(charts.maxima, between).filter(({ series }) => !hidden.has(series)),
    findings: hidden.has('measured') ? [] : withinStretch(charts.findings, between),
    pointer: pointer === undefined ? [] : [{ voltage: pointer }],
  };
  const data = { curves, ...marks };
  const shared = {
    clicked: (): void => tellEditor({ type: 'reveal', place, focus: false }),
    pointed: setPointer,
    stretched: setBetween,
  };
  const differences = hidden.has('measured') ? [] : withinStretch(charts.differences, between);
  return (
    <section class="curves" aria-label="Curves">
      <CurveKey sweep={sweep} hidden={hidden} toggle={toggle} />
      <ReadOff
        curves={charts.curves.filter(({ series }) => !hidden.has(series))}
        differences={charts.differences}
        at={pointer}
        setAt={setPointer}
      />
      <Chart
        {...shared}
        spec={currentVoltageSpec(theme, {
          ...size,
          stacked: 'upper',
        })}
        data={data}
        signals={{ right, top: axisEnd(charts.curves, 'current') }}
        description={`Current over voltage. ${charts.description}`}
        name={`${address}-current`}
      />
      <Chart
        {...shared}
        spec={powerVoltageSpec(theme, {
          ...size,
          stacked: charts.differences.length > 0 ? 'upper' : 'lower',
        })}
        data={data}
        signals={{ right, top: axisEnd(charts.curves, 'power') }}
        description={`Power over voltage. ${charts.description}`}
        name={`${address}-power`}
      />
      {charts.differences.length > 0 && (
        <Chart
          {...shared}
          spec={differenceSpec(theme, { ...size, height: differenceHeight, stacked: 'lower' })}
          data={{ differences, pointer: marks.pointer }}
          signals={{ right }}
          description="Measured current less the current that the nameplate lets expect at the conditions of the sweep, over voltage."
          name={`${address}-difference`}
        />
      )}
      <p class="small">
        {between ? (
          <button type="button" class="link" onClick={() => setBetween(undefined)}>
            Show all of the curve
          </button>
        ) : (
          'Draw over a stretch of the curve to see it larger; a double click shows all of it again.'
        )}
      </p>
    </section>
  );
}

/** In two digits, upward: a keystroke that moves the third one draws no axis anew. */
function axisEnd(rows: readonly CurveRow[], field: 'voltage' | 'current' | 'power'): number {
  const most = rows.reduce((largest, row) => Math.max(largest, row[field]), 0);
  const step = 10 ** (Math.floor(Math.log10(most)) - 1);
  return most > 0 ? Math.ceil(most / step) * step : 1;
}

/** The rows of a stretch, with the neighbours on either side, so that lines run to its edges. */
function withinStretch<Row extends CurveRow | DifferenceRow | { readonly voltage: number }>(
  rows: readonly Row[],
  between: Between | undefined,
): readonly Row[] {
  if (!between) return rows;
  const [from, to] = between;
  const inside = (row: Row | undefined): boolean =>
    row !== undefined && row.voltage >= from && row.voltage <= to;
  return rows.filter((row, k) => inside(row) || inside(rows[k - 1]) || inside(rows[k + 1]));
}
