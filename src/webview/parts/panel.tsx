import type { NextStep } from '../../presentation/nextSteps.js';
import type { CampaignModel, PreviewModel } from '../../presentation/previewTypes.js';
import type { ChartTheme } from '../../presentation/chartTheme.js';
import { CampaignPart } from './campaign.js';
import { Curves } from './curves.js';
import { Heading } from './heading.js';
import { Conditions, Details } from './details.js';
import { ParameterTable } from './parameterTable.js';
import { Cautions, Problems, Reasons } from './findings.js';

export interface PanelView {
  readonly campaign?: CampaignModel;
  readonly steps?: readonly NextStep[];
  readonly sweep?: PreviewModel;
  readonly held: boolean;
  readonly theme: ChartTheme;
  /** What to say while there is nothing to show. */
  readonly nothing?: string;
}

export function Panel({ campaign, steps, sweep, held, theme, nothing }: PanelView) {
  if (nothing !== undefined || !campaign) {
    return <p class="nothing">{nothing ?? 'Computing the campaign …'}</p>;
  }
  return (
    <div class="layout">
      <main class="sweep">
        {sweep ? <SweepPart sweep={sweep} campaign={campaign} held={held} theme={theme} /> : <NoSweep />}
      </main>
      <CampaignPart campaign={campaign} steps={steps ?? []} shown={sweep?.sweepId} theme={theme} />
    </div>
  );
}

function SweepPart(props: {
  sweep: PreviewModel;
  campaign: CampaignModel;
  held: boolean;
  theme: ChartTheme;
}) {
  const { sweep, campaign, held, theme } = props;
  return (
    <>
      <Heading sweep={sweep} campaign={campaign} held={held} />
      <Conditions sweep={sweep} />
      <Curves sweep={sweep} theme={theme} />
      <ParameterTable sweep={sweep} />
      <Reasons sweep={sweep} />
      <Cautions sweep={sweep} />
      <Problems problems={sweep.problems} title="Problems of this sweep" />
      <Details sweep={sweep} />
    </>
  );
}

function NoSweep() {
  return (
    <p class="nothing">
      This campaign has no sweep yet. Write <code>sweep ADDRESS at TIME</code> and the data it comes from.
    </p>
  );
}
