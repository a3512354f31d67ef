import { useState } from 'preact/hooks';
import { arrayMapSpec, campaignOverviewSpec, distributionSpec } from '../../presentation/chartSpecs.js';
import type { ChartTheme } from '../../presentation/chartTheme.js';
import { cautionLine } from '../../presentation/cautions.js';
import type { NextStep } from '../../presentation/nextSteps.js';
import type { CampaignModel, CaseItem, HistorySection } from '../../presentation/previewTypes.js';
import { tellEditor } from '../editorHost.js';
import { PlaceLink, Verdict } from './basics.js';
import { Chart } from './chart.js';
import { Problems } from './findings.js';
import { SweepList } from './sweepList.js';

/** All strings and sweeps: what stands out, what to do next, and the list. */
export function CampaignView({ campaign, theme }: { campaign: CampaignModel; theme: ChartTheme }) {
  const { overview, map } = campaign;
  return (
    <main class="campaign columns">
      <div>
        <h1 id="campaign-title">{campaign.title || campaign.name || 'Campaign'}</h1>
        <p class="when">{[campaign.site, campaign.client].filter((word) => word !== '').join(', ')}</p>
        <p class="counts">
          {campaign.counts
            .filter(({ count }) => count > 0)
            .map(({ mark, count }) => (
              <span key={mark.word} class="count">
                {count} <Verdict mark={mark} />
              </span>
            ))}
        </p>
        <NextSteps steps={campaign.steps} />
        <Cases cases={campaign.cases} />
        <Peers peers={campaign.peers} />
        {campaign.history && <Years history={campaign.history} />}
        <Electrical campaign={campaign} />
        <Problems problems={campaign.problems} title="Problems of the campaign" />
      </div>
      <div>
        {map.length > 0 && (
          <section aria-labelledby="map">
            <h2 id="map">Map of the strings</h2>
            <Chart
              spec={arrayMapSpec(theme, { width: 'container' })}
              data={{ map }}
              ordered
              description={`Places of ${map.length} strings, shaded by the deviation of Pmax. The list carries the same numbers.`}
              name="map"
              clicked={(row) => {
                const { string } = row as { string?: unknown };
                if (typeof string === 'string') tellEditor({ type: 'view', view: 'string', string });
              }}
            />
          </section>
        )}
        {overview.sweeps.length > 2 && (
          <section aria-labelledby="distribution">
            <h2 id="distribution">How the deviations are distributed</h2>
            <Chart
              spec={distributionSpec(theme, { width: 'container' })}
              data={{ sweeps: overview.sweeps, limits: overview.limits }}
              ordered
              description={overview.description}
              name="distribution"
            />
            <AtTheEdge sweeps={overview.sweeps} />
          </section>
        )}
        <SideBySide campaign={campaign} theme={theme} />
        <SweepList sweeps={campaign.sweeps} />
      </div>
    </main>
  );
}

const mostAtTheEdge = 5;

/** Which of the bars at either end stand for more than the axis shows. */
function AtTheEdge({ sweeps }: Pick<CampaignModel['overview'], 'sweeps'>) {
  const beyond = sweeps.filter((row) => row.beyond !== '');
  if (beyond.length === 0) return null;
  const told = beyond.slice(0, mostAtTheEdge).map((row) => `${row.sweep} (${row.beyond})`);
  const more = beyond.length > told.length ? ` and ${beyond.length - told.length} more` : '';
  return <p class="small">{`Counted at the edge: ${told.join(', ')}${more}.`}</p>;
}

/** What to do next; with a caution where it means to open or disconnect something. */
function NextSteps({ steps }: { steps: readonly NextStep[] }) {
  if (steps.length === 0) return null;
  return (
    <section aria-labelledby="next">
      <h2 id="next">Next</h2>
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

function Cases({ cases }: { cases: readonly CaseItem[] }) {
  if (cases.length === 0) return null;
  return (
    <section aria-labelledby="cases">
      <h2 id="cases">Cases</h2>
      <ul class="cases">
        {cases.map(({ string, state, text }) => (
          <li key={string}>
            <button
              type="button"
              class="link"
              aria-label={`String ${string}`}
              onClick={() => tellEditor({ type: 'view', view: 'string', string })}
            >
              {string}
            </button>{' '}
            <Verdict mark={state} />
            {text && `: ${text}`}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Peers({ peers }: Pick<CampaignModel, 'peers'>) {
  if (peers.length === 0) return null;
  return (
    <section aria-labelledby="peers">
      <h2 id="peers">Like strings among themselves</h2>
      <ul class="remarks">
        {peers.map(({ group, standsOut }) => (
          <li key={group}>
            {group}
            {standsOut.length > 0 && (
              <ul class="stands-out">
                {standsOut.map((text) => (
                  <li key={text}>{text}</li>
                ))}
              </ul>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Years({ history }: { history: HistorySection }) {
  return (
    <section aria-labelledby="years">
      <h2 id="years">Change for each year since {history.since}</h2>
      {history.rows.length > 0 && (
        <table>
          <thead>
            <tr>
              <th scope="col">String</th>
              <th scope="col">Years</th>
              <th scope="col">Pmax at STC, a year (k = 2)</th>
            </tr>
          </thead>
          <tbody>
            {history.rows.map((row) => (
              <tr key={row.string}>
                <th scope="row">{row.string}</th>
                <td>{row.years}</td>
                <td>{row.pmax}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <ul class="remarks">
        {history.remarks.map((remark) => (
          <li key={remark}>{remark}</li>
        ))}
      </ul>
    </section>
  );
}

/** Continuity, polarity, insulation and meter readings. */
function Electrical({ campaign }: { campaign: CampaignModel }) {
  const { electricalTests, electricalSummary } = campaign;
  if (electricalTests.length === 0) return null;
  return (
    <section aria-labelledby="electrical">
      <h2 id="electrical">{electricalSummary}</h2>
      <ul class="cases">
        {electricalTests.map((test) => (
          <li key={test.id} class={test.replaced ? 'replaced' : undefined}>
            <PlaceLink place={test.place}>
              {test.address} {test.kind}
            </PlaceLink>{' '}
            <Verdict mark={test.verdict} /> {test.reading}
            {test.replaced ? ' (a later test stands for it)' : ''} {test.reasons.join(' ')}
            {test.danger !== undefined && <strong> {test.danger}</strong>}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Drawn only while it is open. */
function SideBySide({ campaign, theme }: { campaign: CampaignModel; theme: ChartTheme }) {
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
          ordered
          description={overview.description}
          name="deviations"
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
