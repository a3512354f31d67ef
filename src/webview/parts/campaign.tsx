import { useState } from 'preact/hooks';
import { campaignOverviewSpec } from '../../presentation/chartSpecs.js';
import type { ChartTheme } from '../../presentation/chartTheme.js';
import { cautionLine } from '../../presentation/cautions.js';
import type { NextStep } from '../../presentation/nextSteps.js';
import type { CampaignModel, SweepListItem } from '../../presentation/previewTypes.js';
import { tellEditor } from '../editorHost.js';
import { Verdict } from './basics.js';
import { Chart } from './curves.js';
import { Problems } from './findings.js';

/** All sweeps of the campaign. */
export function CampaignPart(props: {
  campaign: CampaignModel;
  steps: readonly NextStep[];
  shown: string | undefined;
  theme: ChartTheme;
}) {
  const { campaign, steps, shown, theme } = props;
  const title = campaign.title || campaign.name || 'Campaign';
  return (
    <section class="campaign" id="all-sweeps" aria-labelledby="campaign-title">
      <h2 id="campaign-title">{title}</h2>
      <p class="counts">
        {campaign.counts
          .filter(({ count }) => count > 0)
          .map(({ mark, count }) => (
            <span key={mark.word} class="count">
              {count} <Verdict mark={mark} />
            </span>
          ))}
      </p>
      <NextSteps steps={steps} />
      <Overview campaign={campaign} theme={theme} />
      <table class="sweeps" role="table" aria-labelledby="campaign-title">
        <thead role="rowgroup">
          <tr role="row">
            {['Sweep', 'Verdict', 'Deviation of Pmax', 'Irradiance', 'Cell'].map((heading) => (
              <th key={heading} role="columnheader" scope="col">
                {heading}
              </th>
            ))}
          </tr>
        </thead>
        <tbody role="rowgroup">
          {/* By position: ids move with every line that is written above. */}
          {campaign.sweeps.map((item, index) => (
            <SweepRow key={index} item={item} isShown={item.id === shown} />
          ))}
        </tbody>
      </table>
      <Problems problems={campaign.problems} title="Problems of the campaign" />
    </section>
  );
}

/** What to do next; with a caution where it means to open or disconnect something. */
function NextSteps({ steps }: { steps: readonly NextStep[] }) {
  if (steps.length === 0) return null;
  return (
    <section aria-labelledby="next">
      <h3 id="next">Next</h3>
      <ul class="next">
        {steps.map((step) => (
          <li key={step.text}>{step.text}</li>
        ))}
      </ul>
      {steps.some((step) => step.disconnects) && (
        <p class="cautions" role="note">
          {cautionLine}
        </p>
      )}
    </section>
  );
}

function SweepRow({ item, isShown }: { item: SweepListItem; isShown: boolean }) {
  const choose = (): void => tellEditor({ type: 'choose', sweepId: item.id });
  return (
    <tr
      role="row"
      aria-current={isShown ? 'true' : undefined}
      title={item.headline || undefined}
      onClick={choose}
    >
      <th role="rowheader" scope="row">
        {/* A click on it, or Enter, rises to the row. */}
        <button type="button" class="link">
          {item.address}
        </button>
        <span class="time">{item.time}</span>
      </th>
      <td role="cell">
        <Verdict mark={item.verdict} />
      </td>
      <td role="cell" class="number">
        {item.deviation} <span class="uncertainty">{item.uncertainty}</span>
      </td>
      <td role="cell" class="number g">
        {item.irradiance}
      </td>
      <td role="cell" class="number t">
        {item.cellTemperature}
      </td>
    </tr>
  );
}

/** Drawn only while it is open. */
function Overview({ campaign, theme }: { campaign: CampaignModel; theme: ChartTheme }) {
  const [isOpen, setOpen] = useState(false);
  const { overview } = campaign;
  if (overview.sweeps.length === 0) return null;
  return (
    <details class="overview" open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>Deviations side by side</summary>
      {isOpen && (
        <Chart
          spec={campaignOverviewSpec(theme, { width: 'container' })}
          data={{ sweeps: overview.sweeps, limits: overview.limits }}
          description={overview.description}
          clicked={(row) => chooseByRow(campaign, row)}
        />
      )}
    </details>
  );
}

/** Each mark of the chart carries the id of its sweep. */
function chooseByRow(campaign: CampaignModel, row: unknown): void {
  const { id } = row as { id?: unknown };
  const item = campaign.sweeps.find((sweep) => sweep.id === id);
  if (item) tellEditor({ type: 'choose', sweepId: item.id });
}
