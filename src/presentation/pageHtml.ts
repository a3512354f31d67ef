/**
 * The report as one HTML file: no script, nothing fetched from elsewhere, everything the user wrote escaped. It reads on a
 * screen and prints on A4.
 */
import type { TopLevelSpec } from 'vega-lite';
import type { Evaluation } from '../evaluation/evaluation.js';
import { campaignModel } from './campaignModel.js';
import { campaignOverviewSpec, currentVoltageSpec, powerVoltageSpec } from './chartSpecs.js';
import { lightTheme } from './chartTheme.js';
import { html, trusted, type Html } from './htmlText.js';
import { nextSteps, type NextStep } from './nextSteps.js';
import {
  annex,
  cautionBox,
  cover,
  overviewFigure,
  problemList,
  replacementTable,
  sweepListTable,
} from './pageParts.js';
import { pageStyle } from './pageStyle.js';
import { electricalTable } from './pageElectrical.js';
import { sweepSection } from './pageSweep.js';
import { previewModel } from './previewModel.js';
import type { CampaignModel, PreviewModel } from './previewTypes.js';

export interface PageModel {
  readonly campaign: CampaignModel;
  readonly sweeps: readonly PreviewModel[];
  readonly steps: readonly NextStep[];
  readonly display: (file: string) => string;
  /** Of the program. */
  readonly version: string;
}

export interface PageChart {
  readonly key: string;
  readonly spec: TopLevelSpec;
}

/** Up to this many sweeps all curves are drawn; beyond it those that passed are only tabulated, and the page says so. */
const drawnWithoutChoice = 150;

export function pageModel(
  evaluation: Evaluation,
  display: (file: string) => string,
  version: string,
): PageModel {
  return {
    campaign: campaignModel(evaluation),
    sweeps: evaluation.sweeps.flatMap((sweep) => previewModel(evaluation, sweep.id) ?? []),
    steps: nextSteps(evaluation),
    display,
    version,
  };
}

/** The charts the page shows; the host draws each as SVG and passes the texts to `campaignPage` by key. */
export function pageCharts(model: PageModel): PageChart[] {
  const { overview } = model.campaign;
  const first =
    overview.sweeps.length > 0
      ? [{ key: 'overview', spec: campaignOverviewSpec(lightTheme, { width: 720 }, overview) }]
      : [];
  const curves = sectionsOf(model)
    .filter((sweep) => sweep.charts.curves.length > 0)
    .flatMap((sweep) => [
      {
        key: currentKey(sweep),
        spec: currentVoltageSpec(lightTheme, { width: 352, height: 220 }, sweep.charts),
      },
      { key: powerKey(sweep), spec: powerVoltageSpec(lightTheme, { width: 352, height: 220 }, sweep.charts) },
    ]);
  return [...first, ...curves];
}

const currentKey = (sweep: PreviewModel): string => `${sweep.sweepId} current`;
const powerKey = (sweep: PreviewModel): string => `${sweep.sweepId} power`;

/** The sweeps with a section of their own. */
function sectionsOf(model: PageModel): readonly PreviewModel[] {
  if (model.sweeps.length <= drawnWithoutChoice) return model.sweeps;
  return model.sweeps.filter((sweep) => sweep.verdict.verdict !== 'pass');
}

/** The whole page. A chart missing from `svgByChart` is left out; its table stays. */
export function campaignPage(model: PageModel, svgByChart: ReadonlyMap<string, string>): string {
  const { campaign } = model;
  const sections = sectionsOf(model);
  const anchors = new Map(sections.map((sweep, index) => [sweep.sweepId, `sweep-${index + 1}`]));
  const left = model.sweeps.length - sections.length;
  const body = html`<header>${cover(campaign, model.steps)}</header>
    <main>
      ${model.steps.some((step) => step.disconnects) ? cautionBox() : undefined}
      ${overviewFigure(campaign, svgByChart.get('overview'))} ${sweepListTable(campaign, anchors)}
      ${electricalTable(campaign.electricalTests, campaign.electricalSummary)} ${replacementTable(campaign)}
      ${problemList(campaign, model.display)}
      <div class="sweeps">
        ${left > 0 ? html`<p>${left} sweeps that passed are in the table above and have no section of their own.</p>` : undefined}
        ${sections.map((sweep) =>
          sweepSection(sweep, {
            anchor: anchors.get(sweep.sweepId)!,
            display: model.display,
            current: svgByChart.get(currentKey(sweep)),
            power: svgByChart.get(powerKey(sweep)),
          }),
        )}
      </div>
      ${annex(campaign)}
    </main>
    <footer class="small">
      Computed by sweepbook ${model.version} from ${fileNames(model)}. The numbers follow from these files and
      the tables they name; the same files give the same page.
    </footer>`;
  return pageFrame(campaign.title, body);
}

function fileNames({ campaign, display }: PageModel): string {
  const files = new Set([...campaign.sweeps, ...campaign.problems].map((item) => display(item.place.file)));
  return [...files].join(', ') || 'an empty campaign';
}

/** A page of its own: no script, nothing from elsewhere. */
export function pageFrame(title: string, body: Html): string {
  return html`<!doctype html>
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light" />
        <meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'" />
        <title>${title}</title>
        <style>
          ${trusted(pageStyle)}
        </style>
      </head>
      <body>
        ${body}
      </body>
    </html> `.html;
}
