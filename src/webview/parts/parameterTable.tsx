import type { ParameterRow, PreviewModel } from '../../presentation/previewTypes.js';
import { PlaceLink, Verdict } from './basics.js';

/**
 * The numbers behind the curves. Roles are written out, since the narrow layout lays the rows out as small cards and a
 * table laid out otherwise would no longer be read as one.
 */
export function ParameterTable({ sweep }: { sweep: PreviewModel }) {
  if (sweep.parameters.length === 0) return null;
  const headings = ['Parameter', 'Measured', 'At STC', 'Nameplate', 'Deviation', 'Limit'];
  return (
    <section aria-labelledby="parameters">
      <h2 id="parameters">Parameters</h2>
      <table class="parameters" role="table" aria-labelledby="parameters">
        <thead role="rowgroup">
          <tr role="row">
            {headings.map((heading) => (
              <th key={heading} role="columnheader" scope="col">
                {heading}
              </th>
            ))}
          </tr>
        </thead>
        <tbody role="rowgroup">
          {sweep.parameters.map((row) => (
            <Row key={row.parameter} row={row} />
          ))}
        </tbody>
      </table>
      <p class="small">
        Uncertainties are expanded to 95.45 %, k = 2 unless the budget says more. STC: 1000 W/m2, 25 degC,
        AM1.5.
      </p>
    </section>
  );
}

function Row({ row }: { row: ParameterRow }) {
  return (
    <tr role="row" class={row.outcome ? `tone-${row.outcome.tone}` : undefined}>
      <th role="rowheader" scope="row" title={row.name}>
        {row.symbol}
      </th>
      <td role="cell" data-label="measured">
        {row.measured}
      </td>
      <td role="cell" data-label="at STC">
        {row.translated}
      </td>
      <td role="cell" data-label="nameplate">
        {row.nameplate}
      </td>
      <td role="cell" class="deviation">
        <span class="number">{row.deviation}</span> <span class="uncertainty">{row.uncertainty}</span>
      </td>
      <td role="cell" class="limit">
        {row.outcome && <Verdict mark={row.outcome} />} <PlaceLink place={row.place}>{row.limit}</PlaceLink>
      </td>
    </tr>
  );
}
