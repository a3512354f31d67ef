import type { PreviewModel, ProblemItem } from '../../presentation/previewTypes.js';
import { cautionsTitle } from '../../presentation/cautions.js';
import { PlaceLink, placeText } from './basics.js';

/** Those beside the ones that decide, which stand in the heading. */
export function Reasons({ sweep }: { sweep: PreviewModel }) {
  const reasons = sweep.reasons.filter((reason) => !reason.decisive);
  if (reasons.length === 0) return null;
  return (
    <section aria-labelledby="reasons">
      <h2 id="reasons">{reasons.length < sweep.reasons.length ? 'Further reasons' : 'Reasons'}</h2>
      <ul class="reasons">
        {reasons.map((reason, index) => (
          <li key={`${reason.code} ${index}`}>
            <PlaceLink place={reason.place ?? sweep.place}>{reason.text}</PlaceLink>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Shown where the verdict leads to opening or disconnecting something. */
export function Cautions({ cautions }: { cautions: readonly string[] }) {
  if (cautions.length === 0) return null;
  return (
    <aside class="cautions" aria-labelledby="cautions">
      <h2 id="cautions">
        <span class="shape" aria-hidden="true">
          ⚠
        </span>
        {cautionsTitle}
      </h2>
      {cautions.map((caution) => (
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
