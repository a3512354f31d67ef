/** The parts of the page that speak of the campaign as a whole. */
import { cautions, cautionsTitle } from './cautions.js';
import { missing } from './formatNumber.js';
import { html, trusted, type Html } from './htmlText.js';
import type { NextStep } from './nextSteps.js';
import { verdictHtml } from './pageSweep.js';
import type { CampaignModel } from './previewTypes.js';

/** Title, facts, counts, and what to do next. */
export function cover(campaign: CampaignModel, steps: readonly NextStep[]): Html {
  const days = [...new Set(campaign.sweeps.map((sweep) => sweep.time.slice(0, 10)))]
    .filter((day) => day !== missing)
    .sort();
  const period = days.length > 1 ? `${days[0]} to ${days.at(-1)}` : (days[0] ?? '');
  const facts = [
    ['Client', campaign.client],
    ['Site', campaign.site],
    ['Purpose', campaign.purpose],
    ['Operator', campaign.operator],
    ['Measured', period],
    ['Campaign', campaign.name],
  ].filter(([, value]) => value !== '');
  return html`<p class="kind">Photovoltaic I-V measurements</p>
    <h1>${campaign.title}</h1>
    <dl class="facts">
      ${facts.map(
        ([name, value]) =>
          html`<dt>${name}</dt>
            <dd>${value}</dd>`,
      )}
    </dl>
    <ul class="counts" aria-label="${campaign.summary}">
      ${campaign.counts.map(
        ({ mark, count }) =>
          html`<li class="${count === 0 ? 'none' : 'some'}">
            <b>${count}</b>${count === 0 ? mark.word : verdictHtml(mark)}
          </li>`,
      )}
    </ul>
    ${caseList(campaign)}
    ${
      steps.length === 0
        ? undefined
        : html`<h3>Next</h3>
            <ul>
              ${steps.map((step) => html`<li>${step.text}</li>`)}
            </ul>`
    }`;
}

/** Strings that are or were at fault, and where their cases stand. */
function caseList({ cases }: CampaignModel): Html | undefined {
  if (cases.length === 0) return undefined;
  return html`<h3>Cases</h3>
    <ul>
      ${cases.map(({ string, state, text }) => html`<li>${string}: ${markHtml(state)}${text === '' ? '' : `: ${text}`}</li>`)}
    </ul>`;
}

const markHtml = ({ word, symbol, tone }: CampaignModel['cases'][number]['state']): Html =>
  html`<span class="mark tone-${tone}"><span aria-hidden="true">${symbol}</span>${word}</span>`;

export function cautionBox(): Html {
  return html`<aside class="caution">
    <h3>${cautionsTitle}</h3>
    <ul>
      ${cautions.map((text) => html`<li>${text}</li>`)}
    </ul>
  </aside>`;
}

export function overviewFigure(campaign: CampaignModel, svg: string | undefined): Html | undefined {
  if (svg === undefined) return undefined;
  const beyond = campaign.overview.sweeps.some((row) => row.beyond !== '');
  return html`<section>
    <h2>Deviation of maximum power</h2>
    <figure>
      <div role="img" aria-label="${campaign.overview.description}">${trusted(svg)}</div>
      <figcaption>
        Each sweep translated to standard test conditions and held against its nameplate. Whiskers: expanded
        uncertainty, 95.45 %. Red ticks: limits of the criteria.
        ${beyond ? 'A mark with a number stands at the edge of the scale.' : undefined}
      </figcaption>
    </figure>
  </section>`;
}

export function sweepListTable(campaign: CampaignModel, anchors: ReadonlyMap<string, string>): Html {
  if (campaign.sweeps.length === 0) return html`<p>There are no sweeps.</p>`;
  return html`<section>
    <h2>Sweeps</h2>
    <div class="scroll">
      <table>
        <caption>
          G: irradiance, T: cell temperature, Pmax and its deviation from nameplate at standard test
          conditions, U: expanded uncertainty of the deviation, 95.45 %.
        </caption>
        <thead>
          <tr>
            <th scope="col">sweep</th>
            <th scope="col">device</th>
            <th scope="col">time</th>
            <th scope="col" class="n">G</th>
            <th scope="col" class="n">T</th>
            <th scope="col" class="n">Pmax</th>
            <th scope="col" class="n">deviation</th>
            <th scope="col" class="n">U</th>
            <th scope="col">verdict</th>
          </tr>
        </thead>
        <tbody>
          ${campaign.sweeps.map((sweep) => {
            const anchor = anchors.get(sweep.id);
            const name =
              anchor === undefined ? sweep.address : html`<a href="#${anchor}">${sweep.address}</a>`;
            return html` <tr>
              <th scope="row" class="w">${name}</th>
              <td class="w">${sweep.device}</td>
              <td class="w">${sweep.time}</td>
              <td class="n">${sweep.irradiance}</td>
              <td class="n">${sweep.cellTemperature}</td>
              <td class="n">${sweep.pmax}</td>
              <td class="n">${sweep.deviation}</td>
              <td class="n">${sweep.uncertainty}</td>
              <td>${verdictHtml(sweep.verdict)}</td>
            </tr>`;
          })}
        </tbody>
      </table>
    </div>
  </section>`;
}

export function replacementTable(campaign: CampaignModel): Html | undefined {
  if (campaign.replacements.length === 0) return undefined;
  return html`<section>
    <h2>Replacements</h2>
    <div class="scroll">
      <table>
        <thead>
          <tr>
            <th scope="col">module</th>
            <th scope="col">time</th>
            <th scope="col">change</th>
            <th scope="col">reason</th>
          </tr>
        </thead>
        <tbody>
          ${campaign.replacements.map(
            (item) =>
              html` <tr>
                <th scope="row" class="w">${item.address}</th>
                <td class="w">${item.time}</td>
                <td>${item.change}</td>
                <td>${item.reason}</td>
              </tr>`,
          )}
        </tbody>
      </table>
    </div>
  </section>`;
}

export function problemList(campaign: CampaignModel, display: (file: string) => string): Html | undefined {
  if (campaign.problems.length === 0) return undefined;
  return html`<section>
    <h2>Diagnostics</h2>
    <ul>
      ${campaign.problems.map(
        (problem) =>
          html`<li>
            <b>${problem.severity}</b>: ${problem.message}
            <span class="soft"
              >${display(problem.place.file)}, line
              ${problem.place.line + 1}${problem.related.map(
                (related) =>
                  `; ${related.message}: ${display(related.place.file)}, line ${related.place.line + 1}`,
              )}</span
            >
          </li>`,
      )}
    </ul>
  </section>`;
}

/** What the words and numbers mean, for a reader who was not there. */
export function annex(campaign: CampaignModel): Html {
  return html`<section class="annex">
    <h2>How to read this</h2>
    <ul>
      ${campaign.counts.map(({ mark }) => html`<li>${verdictHtml(mark)}: ${mark.meaning}</li>`)}
    </ul>
    <p>
      Each curve is measured at the irradiance and cell temperature of the moment and translated to standard
      test conditions (1000 W/m2, 25 degC, spectrum AM1.5) by IEC 60891:2021. The nameplate of one module is
      multiplied by the number of modules in series and of strings in parallel. The deviation is (translated -
      nameplate) / nameplate. Values that the nameplate does not give are estimated, and each section says
      which and how.
    </p>
    <p>
      Uncertainties are expanded to 95.45 % (k = 2, and more where few repeated sweeps tell the scatter) and
      combine what the instruments declare with what the translation adds; they are no better than those
      declarations. A verdict is about the device as it was measured at that time, dirt and shade included.
    </p>
  </section>`;
}
