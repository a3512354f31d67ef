import type { PreviewModel, ProblemItem } from '../../presentation/previewTypes.js';
import { PlaceLink, placeText } from './basics.js';

export function Reasons({ sweep }: { sweep: PreviewModel }) {
  if (sweep.reasons.length === 0) return null;
  return (
    <section aria-labelledby="reasons">
      <h2 id="reasons">Reasons</h2>
      <ul class="reasons">
        {sweep.reasons.map((reason, index) => (
          <li key={`${reason.code} ${index}`} class={reason.decisive ? 'decisive' : undefined}>
            <PlaceLink place={reason.place ?? sweep.place}>{reason.text}</PlaceLink>
            {reason.decisive && <span class="tag">decides</span>}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Shown where the verdict leads to opening or disconnecting something. */
export function Cautions({ sweep }: { sweep: PreviewModel }) {
  if (sweep.cautions.length === 0) return null;
  return (
    <aside class="cautions" aria-label="Cautions">
      {sweep.cautions.map((caution) => (
        <p key={caution}>{caution}</p>
      ))}
    </aside>
  );
}

const severityMarks = { error: '✕', warning: '△', information: 'i' } as const;

export function Problems({ problems, title }: { problems: readonly ProblemItem[]; title: string }) {
  if (problems.length === 0) return null;
  return (
    <section aria-label={title}>
      <h2>{title}</h2>
      <ul class="problems">
        {problems.map((problem, index) => (
          <li key={`${problem.id} ${index}`} class={problem.severity}>
            <span class="shape" role="img" aria-label={problem.severity}>
              {severityMarks[problem.severity]}
            </span>
            <span class="message">
              {problem.message} <PlaceLink place={problem.place}>{placeText(problem.place)}</PlaceLink>
              {problem.related.map((related) => (
                <span key={related.message} class="related">
                  {related.message} <PlaceLink place={related.place}>{placeText(related.place)}</PlaceLink>
                </span>
              ))}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
