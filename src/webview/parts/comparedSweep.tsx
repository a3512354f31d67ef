import { differenceSpec } from '../../presentation/chartSpecs.js';
import type { ChartTheme } from '../../presentation/chartTheme.js';
import type {
  ComparedParameter,
  ComparedSweepModel,
  ComparedText,
} from '../../presentation/differenceModel.js';
import type { VerdictMark } from '../../presentation/verdictWords.js';
import { Verdict } from './basics.js';
import { ChangeLink, ChangeList } from './changes.js';
import { Chart } from './chart.js';
import { Overlay } from './overlay.js';
import { Turned } from './turned.js';

/** One sweep before and after: verdict, what brought it about, curves and numbers side by side. */
export function ComparedSweep({ sweep, theme }: { sweep: ComparedSweepModel; theme: ChartTheme }) {
  const { address, time, device, at, before, after, differences } = sweep;
  return (
    <section class="compared-sweep" aria-labelledby="compared">
      <h2 id="compared">
        {address} <span class="device">{device}</span>
      </h2>
      <p class="when">
        {time} <ChangeLink at={at}>in the text diff</ChangeLink>
      </p>
      <div class={`banner tone-${after.tone}`}>
        <Turned before={before} after={after} />
        <p>{sweep.summaryAfter}</p>
        {sweep.summaryBefore !== sweep.summaryAfter && <p class="why">Before: {sweep.summaryBefore}</p>}
      </div>
      {sweep.because.length > 0 && (
        <>
          <h3>What each change does to it alone</h3>
          <ChangeList items={sweep.because} />
        </>
      )}
      <Overlay title={`${address} before and after, at STC`} data={sweep.overlay} theme={theme} />
      {differences.length > 0 && (
        <section class="overlay difference-chart" aria-label="Difference of the curves">
          <h2>Current after less current before</h2>
          <Chart
            spec={differenceSpec(theme, { width: 'container', height: 90 })}
            data={{ differences, pointer: [] }}
            description="Current of the curve at STC after, less that before, over voltage."
            name={`${address}-difference`}
          />
        </section>
      )}
      <Parameters rows={sweep.parameters} />
      <Conditions rows={sweep.conditions} />
    </section>
  );
}

function Parameters({ rows }: { rows: readonly ComparedParameter[] }) {
  if (rows.length === 0) return null;
  const headings = ['Parameter', 'Before', 'After', 'Change', 'From nameplate'];
  return (
    <section aria-labelledby="compared-parameters">
      <h2 id="compared-parameters">Parameters at STC</h2>
      <table class="side-by-side" aria-labelledby="compared-parameters">
        <thead>
          <tr>
            {headings.map((heading) => (
              <th key={heading} scope="col">
                {heading}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.symbol}>
              <th scope="row" title={row.name}>
                {row.symbol}
              </th>
              <td>{row.before}</td>
              <td>{row.after}</td>
              <td>{row.change}</td>
              <td>
                {row.deviationBefore === row.deviationAfter ? '' : `${row.deviationBefore} → `}
                {row.deviationAfter} <span class="uncertainty">{row.uncertainty}</span>
                <Outcome before={row.outcomeBefore} after={row.outcomeAfter} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="small">Uncertainties are those of the later deviations, expanded to 95.45 %.</p>
    </section>
  );
}

function Outcome({ before, after }: { before?: VerdictMark | undefined; after?: VerdictMark | undefined }) {
  const known = after ?? before;
  if (!known) return null;
  return (
    <span class="time">
      {before && after ? <Turned before={before} after={after} /> : <Verdict mark={known} />}
    </span>
  );
}

function Conditions({ rows }: { rows: readonly ComparedText[] }) {
  if (rows.length === 0) return null;
  return (
    <section aria-labelledby="compared-conditions">
      <h2 id="compared-conditions">Conditions that changed</h2>
      <table class="side-by-side" aria-labelledby="compared-conditions">
        <thead>
          <tr>
            {['Condition', 'Before', 'After'].map((heading) => (
              <th key={heading} scope="col">
                {heading}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ name, before, after }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{before}</td>
              <td>{after}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
