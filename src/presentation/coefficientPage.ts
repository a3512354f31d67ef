/** The page of a module type's own coefficients: the table, and for each coefficient what every sweep leaves over. */
import type { TopLevelSpec } from 'vega-lite';
import type { OwnCoefficient } from '../analysis/ownCoefficients.js';
import { chartConfig, sizeOf } from './chartFrame.js';
import { lightTheme, type ChartTheme } from './chartTheme.js';
import {
  coefficientNotes,
  coefficientRows,
  coefficientTitle,
  type CoefficientReport,
} from './coefficientTexts.js';
import { html, trusted } from './htmlText.js';
import { pageFrame, type PageChart } from './pageFrame.js';

const overTemperature = (symbol: OwnCoefficient['symbol']): boolean => symbol !== 'B1' && symbol !== 'Rs';

/** Residuals in percent over the condition that the coefficient answers to; points, and a line where nothing is left over. */
export function residualSpec(theme: ChartTheme, coefficient: OwnCoefficient): TopLevelSpec {
  const { symbol, of, residuals } = coefficient;
  const heat = overTemperature(symbol);
  const rows = residuals.map(({ sweep, irradiance, cellTemperature, residual }) => ({
    sweep,
    at: heat ? cellTemperature : irradiance,
    residual: 100 * residual,
  }));
  const y = { field: 'residual', type: 'quantitative', title: `Residual of ${of} (%)` } as const;
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    description: `Residuals of ${of} for ${symbol}, ${rows.length} sweeps.`,
    ...sizeOf({ width: 320, height: 180 }, 180),
    layer: [
      {
        data: { values: [{ zero: 0 }] },
        mark: { type: 'rule', color: theme.muted, strokeDash: [4, 3], aria: false },
        encoding: { y: { field: 'zero', type: 'quantitative' } },
      },
      {
        data: { values: rows },
        mark: { type: 'point', filled: true, size: 55, color: theme.translated, opacity: 0.9 },
        encoding: {
          x: {
            field: 'at',
            type: 'quantitative',
            title: heat ? 'Cell temperature (degC)' : 'Irradiance (W/m2)',
            axis: { format: '~r' },
            scale: { zero: false, nice: true },
          },
          y,
          tooltip: [
            { field: 'sweep', type: 'nominal', title: 'Sweep' },
            { field: 'residual', type: 'quantitative', title: 'Residual (%)', format: '.2f' },
          ],
        },
      },
    ],
    config: chartConfig(theme),
  };
}

/** One chart for each coefficient that was determined. */
export function coefficientCharts({ own }: CoefficientReport): PageChart[] {
  return own.coefficients
    .filter(({ residuals }) => residuals.length > 0)
    .map((each) => ({ key: each.symbol, spec: residualSpec(lightTheme, each) }));
}

export function coefficientPage(
  report: CoefficientReport,
  svgByChart: ReadonlyMap<string, string>,
  version: string,
): string {
  const title = coefficientTitle(report);
  const rows = coefficientRows(report);
  const body = html`<header>
      <p class="kind">Photovoltaic I-V measurements</p>
      <h1>${title}</h1>
    </header>
    <main>
      <div class="scroll">
        <table>
          <caption>
            For one module. Own values with their standard error, k = 1.
          </caption>
          <thead>
            <tr>
              <th scope="col"></th>
              <th scope="col" class="n">own value</th>
              <th scope="col" class="n">nameplate</th>
              <th scope="col" class="n">difference</th>
              <th scope="col" class="n">sweeps</th>
              <th scope="col" class="n">largest residual</th>
            </tr>
          </thead>
          <tbody>
            ${rows.map(
              (row) =>
                html` <tr>
                  <th scope="row">${row.symbol}</th>
                  <td class="n">${row.value}</td>
                  <td class="n">${row.nameplate}</td>
                  <td class="n">${row.difference}</td>
                  <td class="n">${row.sweeps}</td>
                  <td class="n">${row.largest}</td>
                </tr>`,
            )}
          </tbody>
        </table>
      </div>
      <ul>
        ${rows
          .filter(({ refusal }) => refusal !== '')
          .map(({ symbol, refusal }) => html`<li>${symbol}: not determined. ${refusal}</li>`)}
        ${report.own.leftOut.map(({ sweep, reason }) => html`<li>Left out: ${sweep}, ${reason}.</li>`)}
        ${coefficientNotes.map((note) => html`<li>${note}</li>`)}
      </ul>
      <div class="pair">
        ${report.own.coefficients.map((each) => {
          const svg = svgByChart.get(each.symbol);
          if (svg === undefined) return undefined;
          return html`<figure>
            <div role="img" aria-label="Residuals of ${each.of} for ${each.symbol}">${trusted(svg)}</div>
            <figcaption>
              What each sweep leaves over of ${each.of} with the own ${each.symbol}. A trend or a bend says
              that something else acts.
            </figcaption>
          </figure>`;
        })}
      </div>
    </main>
    <footer class="small">Computed by sweepbook ${version}.</footer>`;
  return pageFrame(title, body);
}
