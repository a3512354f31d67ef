import type { ComponentChildren } from 'preact';
import type { BudgetRow, FitSection, PreviewModel } from '../../presentation/previewTypes.js';
import { PlaceLink } from './basics.js';

export function Conditions({ sweep }: { sweep: PreviewModel }) {
  if (sweep.conditions.length === 0) return null;
  return (
    <dl class="conditions" aria-label="Conditions">
      {sweep.conditions.map((row) => (
        <div key={row.name}>
          <dt>{row.name}</dt>
          <dd>
            <PlaceLink place={row.place}>{row.value}</PlaceLink>
            <span class="origin" title={row.origin}>
              {row.origin}
            </span>
          </dd>
        </div>
      ))}
    </dl>
  );
}

/** What the numbers rest on. */
export function Details({ sweep }: { sweep: PreviewModel }) {
  return (
    <>
      <Block title="Estimates in use" isEmpty={sweep.estimates.length === 0}>
        <dl class="pairs">
          {sweep.estimates.map(({ symbol, value, method }) => (
            <div key={symbol}>
              <dt>
                {symbol} {value}
              </dt>
              <dd>{method}</dd>
            </div>
          ))}
        </dl>
      </Block>
      <Block title="Noted while computing" isEmpty={sweep.flags.length === 0}>
        <ul>
          {sweep.flags.map((flag) => (
            <li key={`${flag.curve} ${flag.code}`}>
              {flag.curve === 'measured' ? 'Measured curve: ' : 'Translated curve: '}
              {flag.text}
            </li>
          ))}
        </ul>
      </Block>
      <Block title="Notes" isEmpty={sweep.notes.length === 0}>
        <ul>
          {sweep.notes.map((note) => (
            <li key={`${note.place.line} ${note.text}`}>
              <PlaceLink place={note.place}>{note.text}</PlaceLink>
            </li>
          ))}
        </ul>
      </Block>
      <Block title="Method" isEmpty={sweep.method.length === 0}>
        <ul>
          {sweep.method.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      </Block>
      <Budget rows={sweep.budget} />
      {sweep.fit && <Fit fit={sweep.fit} />}
    </>
  );
}

function Block({
  title,
  isEmpty,
  children,
}: {
  title: string;
  isEmpty: boolean;
  children: ComponentChildren;
}) {
  if (isEmpty) return null;
  return (
    <section aria-label={title}>
      <h2>{title}</h2>
      {children}
    </section>
  );
}

const budgetColumns = [
  ['pmax', 'Pmax'],
  ['isc', 'Isc'],
  ['voc', 'Voc'],
  ['ff', 'FF'],
] as const;

function Budget({ rows }: { rows: readonly BudgetRow[] }) {
  if (rows.length === 0) return null;
  return (
    <details class="budget">
      <summary>Uncertainty budget, k = 1, and how it is expanded</summary>
      <table>
        <thead>
          <tr>
            <th scope="col">Source</th>
            <th scope="col">Standard uncertainty</th>
            {budgetColumns.map(([parameter, symbol]) => (
              <th key={parameter} scope="col">
                {symbol}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.source}>
              <th scope="row">{row.source}</th>
              <td>{row.standardUncertainty}</td>
              {budgetColumns.map(([parameter]) => (
                <td key={parameter}>{row.contribution[parameter]}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

function Fit({ fit }: { fit: FitSection }) {
  return (
    <details class="budget">
      <summary>Fitted model, k = 1</summary>
      {fit.reason === undefined ? <FitTables fit={fit} /> : <p>{fit.reason}</p>}
    </details>
  );
}

function FitTables({ fit }: { fit: FitSection }) {
  return (
    <>
      <table>
        <thead>
          <tr>
            <th scope="col">Single-diode model</th>
            <th scope="col">Fitted</th>
            <th scope="col">Nameplate there</th>
          </tr>
        </thead>
        <tbody>
          {fit.rows.map((row) => (
            <tr key={row.symbol}>
              <th scope="row" title={row.name}>
                {row.symbol}
              </th>
              <td>{row.fitted}</td>
              <td>{row.expected}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {fit.expected.length > 0 && (
        <table>
          <thead>
            <tr>
              <th scope="col">At the conditions of the sweep, at the module terminals</th>
              <th scope="col">Measured</th>
              <th scope="col">Expected</th>
              <th scope="col">Deviation</th>
            </tr>
          </thead>
          <tbody>
            {fit.expected.map((row) => (
              <tr key={row.symbol}>
                <th scope="row" title={row.name}>
                  {row.symbol}
                </th>
                <td>{row.measured}</td>
                <td>{row.expected}</td>
                <td>{row.deviation}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p class="origin">{fit.note}</p>
    </>
  );
}
