import type { ViewName } from '../../messages/previewMessages.js';
import type { DifferenceModel } from '../../presentation/differenceModel.js';
import type { CampaignHead, CampaignModel, PreviewModel } from '../../presentation/previewTypes.js';
import type { StringModel } from '../../presentation/stringTypes.js';
import type { ChartTheme } from '../../presentation/chartTheme.js';
import { CampaignView } from './campaign.js';
import { Curves } from './curves.js';
import { DiagnosisPart } from './diagnosis.js';
import { DifferenceView } from './difference.js';
import { Heading } from './heading.js';
import { Conditions, Details } from './details.js';
import { ParameterTable } from './parameterTable.js';
import { Cautions, Problems, Reasons } from './findings.js';
import { StringView } from './string.js';
import { Views } from './views.js';

export interface PanelView {
  readonly view: ViewName;
  readonly head?: CampaignHead;
  readonly sweep?: PreviewModel;
  readonly string?: StringModel;
  readonly campaign?: CampaignModel;
  readonly held: boolean;
  /** In the panel that compares. */
  readonly difference?: DifferenceModel;
  /** What it shows is of an older text. */
  readonly comparing?: boolean;
  readonly theme: ChartTheme;
  /** What to say while there is nothing to show. */
  readonly nothing?: string;
}

export function Panel(panel: PanelView) {
  const { view, head, held, nothing, difference, comparing = false, theme } = panel;
  if (nothing === undefined && difference)
    return <DifferenceView difference={difference} comparing={comparing} theme={theme} />;
  if (nothing !== undefined || !head) {
    return <p class="nothing">{nothing ?? 'Computing the campaign …'}</p>;
  }
  return (
    <div class="layout">
      <Views view={view} head={head} held={held} />
      <Shown {...panel} />
    </div>
  );
}

function Shown({ view, sweep, string, campaign, theme }: PanelView) {
  switch (view) {
    case 'sweep':
      return sweep ? <SweepView sweep={sweep} theme={theme} /> : <NoSweep />;
    case 'string':
      return string ? <StringView string={string} theme={theme} /> : <NoSweep />;
    case 'campaign':
      return campaign ? <CampaignView campaign={campaign} theme={theme} /> : null;
  }
}

/** Beside one another where there is room: what is looked at, and what is read. */
function SweepView({ sweep, theme }: { sweep: PreviewModel; theme: ChartTheme }) {
  return (
    <main class="sweep columns">
      <div>
        <Heading sweep={sweep} />
        <Conditions sweep={sweep} />
        <Curves sweep={sweep} theme={theme} />
      </div>
      <div>
        <ParameterTable sweep={sweep} />
        <DiagnosisPart sweep={sweep} />
        <Reasons sweep={sweep} />
        <Cautions cautions={sweep.cautions} />
        <Problems problems={sweep.problems} title="Problems of this sweep" />
        <Details sweep={sweep} />
      </div>
    </main>
  );
}

function NoSweep() {
  return (
    <main class="nothing">
      This campaign has no sweep yet. Write <code>sweep ADDRESS at TIME</code> and the data it comes from.
    </main>
  );
}
