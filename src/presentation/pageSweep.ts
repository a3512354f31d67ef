/** The section of one sweep on the page. */
import { html, trusted, type Html } from './htmlText.js';
import type { BudgetRow, FitSection, ParameterRow, PreviewModel } from './previewTypes.js';
import type { SourcePlace } from './sourcePlace.js';
import type { VerdictMark } from './verdictWords.js';

/** The verdict as mark and word. */
export function verdictHtml(mark: VerdictMark): Html {
  return html`<span class="mark tone-${mark.tone}"
    ><span aria-hidden="true">${mark.symbol}</span>${mark.word}</span
  >`;
}

export interface SectionParts {
  readonly anchor: string;
  readonly display: (file: string) => string;
  /** Drawn charts, absent where there is no curve. */
  readonly current?: string;
  readonly power?: string;
}

export function sweepSection(sweep: PreviewModel, parts: SectionParts): Html {
  return html`<section class="sweep" id="${parts.anchor}">
    <div class="keep">
      <h2>
        <span
          >${sweep.address}${sweep.device === '' ? '' : html` <span class="soft">${sweep.device}</span>`}</span
        ><span class="when">${sweep.time}</span>
      </h2>
      <p class="verdict">${verdictHtml(sweep.verdict)}. ${sweep.reasons[0]?.text}</p>
      ${charts(sweep, parts)}
    </div>
    ${sweep.parameters.length === 0 ? undefined : parameterTable(sweep.parameters)} ${reasonList(sweep)}
    <div class="${sweep.budget.length > 0 ? 'pair' : 'single'}">
      ${conditionTable(sweep, parts)} ${budgetTable(sweep.budget)}
    </div>
    ${fittedModel(sweep.fit)} ${remarks(sweep)}
    <p class="small">${sweep.method.join(' ')} Written in ${placeText(sweep.place, parts.display)}.</p>
  </section> `;
}

function placeText(place: SourcePlace, display: (file: string) => string): string {
  return `${display(place.file)}, line ${place.line + 1}`;
}

function charts(sweep: PreviewModel, parts: SectionParts): Html | undefined {
  if (parts.current === undefined || parts.power === undefined) return undefined;
  const continued = sweep.charts.curves.some((row) => row.part === 'continued');
  const caption =
    'Marks: maximum power points.' +
    (continued ? ' Dotted: continued beyond the measured points by the translation.' : '');
  return html`<figure>
    <div class="pair" role="img" aria-label="${sweep.charts.description}">
      ${trusted(parts.current)}${trusted(parts.power)}
    </div>
    <figcaption>${caption}</figcaption>
  </figure>`;
}

function parameterTable(rows: readonly ParameterRow[]): Html {
  const judged = rows.some((row) => row.outcome);
  return html`<div class="scroll">
    <table>
      <caption>
        Curve parameters; U is the expanded uncertainty of the deviation, k = 2 unless the budget says more.
      </caption>
      <thead>
        <tr>
          <th scope="col"></th>
          <th scope="col" class="n">measured</th>
          <th scope="col" class="n">at STC</th>
          <th scope="col" class="n">nameplate</th>
          <th scope="col" class="n">deviation</th>
          <th scope="col" class="n">U</th>
          <th scope="col" class="n">limit</th>
          ${judged ? html`<th scope="col">outcome</th>` : undefined}
        </tr>
      </thead>
      <tbody>
        ${rows.map(
          (row) =>
            html` <tr>
              <th scope="row" title="${row.name}">${row.symbol}</th>
              <td class="n">${row.measured}</td>
              <td class="n">${row.translated}</td>
              <td class="n">${row.nameplate}</td>
              <td class="n">${row.deviation}</td>
              <td class="n">${row.uncertainty}</td>
              <td class="n">${row.limit}</td>
              ${judged ? html`<td>${row.outcome && verdictHtml(row.outcome)}</td>` : undefined}
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}

function conditionTable(sweep: PreviewModel, parts: SectionParts): Html {
  return html`<div class="scroll">
    <table>
      <caption>
        Conditions
      </caption>

      <tbody>
        ${sweep.conditions.map(
          (row) =>
            html` <tr>
              <th scope="row" class="w">${row.name}</th>
              <td class="w">${row.value}</td>
              <td>
                ${row.origin}${
                  row.place && row.place.file !== sweep.place.file && row.place.line > 0
                    ? html` <span class="soft">${placeText(row.place, parts.display)}</span>`
                    : undefined
                }
              </td>
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}

/** The first reason stands beside the verdict already. */
function reasonList(sweep: PreviewModel): Html | undefined {
  const rest = sweep.reasons.slice(1);
  if (rest.length === 0) return undefined;
  return html`<h3>Further reasons</h3>
    <ul>
      ${rest.map((reason) => html`<li class="${reason.decisive ? 'decisive' : 'other'}">${reason.text}</li>`)}
    </ul>`;
}

function remarks(sweep: PreviewModel): Html | undefined {
  const items = [
    ...sweep.estimates.map(
      (item) => `Estimated, not on the nameplate: ${item.symbol} = ${item.value} (${item.method}).`,
    ),
    ...sweep.flags.map((flag) => flag.text),
    ...sweep.problems.map((problem) => `${problem.severity}: ${problem.message}`),
    ...sweep.notes.map((note) => `Note: ${note.text}`),
  ];
  if (items.length === 0) return undefined;
  return html`<h3>Remarks</h3>
    <ul>
      ${items.map((item) => html`<li>${item}</li>`)}
    </ul>`;
}

function fittedModel(fit: FitSection | undefined): Html | undefined {
  if (!fit) return undefined;
  if (fit.reason !== undefined) {
    return html`<h3>Fitted model</h3>
      <p>${fit.reason}</p>`;
  }
  return html`<h3>Fitted model</h3>
    <div class="${fit.expected.length > 0 ? 'pair' : 'single'}">
      <div class="scroll">
        <table>
          <caption>
            Single-diode model of the measured points, beside the nameplate's at the same conditions
          </caption>
          <thead>
            <tr>
              <th scope="col"></th>
              <th scope="col" class="n">fitted</th>
              <th scope="col" class="n">nameplate</th>
            </tr>
          </thead>
          <tbody>
            ${fit.rows.map(
              (row) =>
                html` <tr>
                  <th scope="row" title="${row.name}">${row.symbol}</th>
                  <td class="n">${row.fitted}</td>
                  <td class="n">${row.expected}</td>
                </tr>`,
            )}
          </tbody>
        </table>
      </div>
      ${fit.expected.length > 0 ? expectedTable(fit) : undefined}
    </div>
    <p class="small">${fit.note}</p>`;
}

function expectedTable(fit: FitSection): Html {
  return html`<div class="scroll">
    <table>
      <caption>
        Expected of the nameplate at the conditions of the sweep
      </caption>
      <thead>
        <tr>
          <th scope="col"></th>
          <th scope="col" class="n">measured</th>
          <th scope="col" class="n">expected</th>
          <th scope="col" class="n">deviation</th>
        </tr>
      </thead>
      <tbody>
        ${fit.expected.map(
          (row) =>
            html` <tr>
              <th scope="row" title="${row.name}">${row.symbol}</th>
              <td class="n">${row.measured}</td>
              <td class="n">${row.expected}</td>
              <td class="n">${row.deviation}</td>
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}

function budgetTable(rows: readonly BudgetRow[]): Html | undefined {
  if (rows.length === 0) return undefined;
  const columns = ['pmax', 'isc', 'voc'] as const;
  return html`<div class="scroll">
    <table>
      <caption>
        Uncertainty budget: standard uncertainty u of each input (k = 1) and what it adds
      </caption>
      <thead>
        <tr>
          <th scope="col">source</th>
          <th scope="col" class="n">u</th>
          <th scope="col" class="n">Pmax</th>
          <th scope="col" class="n">Isc</th>
          <th scope="col" class="n">Voc</th>
        </tr>
      </thead>
      <tbody>
        ${rows.map(
          (row) =>
            html` <tr>
              <td>${row.source}</td>
              <td class="n">${row.standardUncertainty}</td>
              ${columns.map((column) => html`<td class="n">${row.contribution[column]}</td>`)}
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}
