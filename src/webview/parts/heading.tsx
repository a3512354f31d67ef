import type { PreviewModel } from '../../presentation/previewTypes.js';
import { tellEditor } from '../editorHost.js';
import { PlaceLink, placeText, Verdict } from './basics.js';

/** Who, when and the verdict: what a reader looks for first. */
export function Heading({ sweep }: { sweep: PreviewModel }) {
  return (
    <header class="heading">
      <div class="title">
        <h1>
          <span class="address">{sweep.address}</span> <span class="device">{sweep.device}</span>
        </h1>
        <Step to={sweep.previous} arrow="‹" label="Previous sweep" />
        <Step to={sweep.next} arrow="›" label="Next sweep" />
      </div>
      <p class="when">
        {sweep.time} <PlaceLink place={sweep.place}>{placeText(sweep.place)}</PlaceLink>
      </p>
      <div class={`banner tone-${sweep.verdict.tone}`}>
        <Verdict mark={sweep.verdict} />
        <Deciding sweep={sweep} />
        {sweep.diagnosis && !sweep.diagnosis.healthy && <p class="shape-says">{sweep.diagnosis.headline}</p>}
      </div>
      <p class="unseen" role="status" aria-live="polite">
        {`${sweep.address}, ${sweep.time}: ${sweep.summary}`}
      </p>
    </header>
  );
}

/** The reasons that decide; what the verdict means where nothing in particular decides it. */
function Deciding({ sweep }: { sweep: PreviewModel }) {
  const decisive = sweep.reasons.filter((reason) => reason.decisive);
  if (decisive.length === 0) return <p>{sweep.verdict.meaning}</p>;
  return (
    <>
      {decisive.map((reason, index) => (
        <p key={`${reason.code} ${index}`} class="deciding">
          <PlaceLink place={reason.place ?? sweep.place}>{reason.text}</PlaceLink>
        </p>
      ))}
    </>
  );
}

function Step({ to, arrow, label }: { to: string | undefined; arrow: string; label: string }) {
  return (
    <button
      type="button"
      class="step"
      aria-label={label}
      title={label}
      disabled={to === undefined}
      onClick={() => to !== undefined && tellEditor({ type: 'choose', sweepId: to })}
    >
      {arrow}
    </button>
  );
}
