import { interpolated } from '../../presentation/betweenRows.js';
import type { CurveRow, DifferenceRow } from '../../presentation/chartData.js';

/** What every drawn curve reads at the voltage under the pointer, or at that of the slider for a keyboard. */
export function ReadOff(props: {
  curves: readonly CurveRow[];
  differences: readonly DifferenceRow[];
  at: number | undefined;
  setAt: (voltage: number | undefined) => void;
}) {
  const { curves, differences, at, setAt } = props;
  const most = curves.reduce((largest, { voltage }) => Math.max(largest, voltage), 0);
  const series = [...new Set(curves.map((row) => row.series))];
  const readings = at === undefined ? [] : series.flatMap((name) => readingOf(curves, name, at));
  const difference = at === undefined ? undefined : interpolated(differences, at, 'difference');
  return (
    <div class="readoff">
      <label>
        Read off{' '}
        <input
          type="range"
          min="0"
          max={most}
          step={most / 500}
          value={at ?? 0}
          aria-valuetext={
            at === undefined ? 'nothing read off' : [`${at.toFixed(1)} V`, ...readings].join(', ')
          }
          onInput={(event) => setAt(Number(event.currentTarget.value))}
        />
      </label>
      <output>
        {at === undefined ? (
          'point at a curve'
        ) : (
          <>
            <strong>{at.toFixed(1)} V</strong>
            {readings.map((text) => (
              <span key={text}>{text}</span>
            ))}
            {difference !== undefined && <span>measured - expected {signed(difference)} A</span>}
          </>
        )}
      </output>
    </div>
  );
}

function readingOf(curves: readonly CurveRow[], series: CurveRow['series'], at: number): string[] {
  const rows = curves.filter((row) => row.series === series);
  const current = interpolated(rows, at, 'current');
  if (current === undefined) return [];
  return [`${series} ${current.toFixed(2)} A, ${(at * current).toFixed(0)} W`];
}

const signed = (value: number): string => `${value > 0 ? '+' : ''}${value.toFixed(2)}`;
