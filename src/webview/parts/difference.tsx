import type { BriefSection } from '../../presentation/brief.js';
import type { ChartTheme } from '../../presentation/chartTheme.js';
import type { DifferenceModel } from '../../presentation/differenceModel.js';
import { tellEditor } from '../editorHost.js';
import { ChangeList } from './changes.js';
import { ComparedSweep } from './comparedSweep.js';
import { ComparedSweeps } from './comparedSweeps.js';

/** What differs from a revision: in words, sweep by sweep, and one sweep in full. */
export function DifferenceView(props: {
  difference: DifferenceModel;
  comparing: boolean;
  theme: ChartTheme;
}) {
  const { difference, comparing, theme } = props;
  const { title, revision, summary, sections, sweeps, chosen } = difference;
  return (
    <div class="layout">
      <nav class="views" aria-label="Revision">
        <span class="against">Compared with {revision}</span>
        <span class="summary" role="status">
          {comparing ? 'Comparing …' : ''}
        </span>
        <button type="button" class="hold" onClick={() => tellEditor({ type: 'askRevision' })}>
          Other Revision …
        </button>
      </nav>
      <main class="difference columns">
        <div>
          <h1>{title}</h1>
          {summary.map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
          {sections.filter(({ isDetail }) => !isDetail).map(sectionPart)}
          <ComparedSweeps sweeps={sweeps} chosen={chosen?.id} />
          {sections.filter(({ isDetail }) => isDetail).map(sectionPart)}
        </div>
        <div>{chosen && <ComparedSweep sweep={chosen} theme={theme} />}</div>
      </main>
    </div>
  );
}

function sectionPart({ title, items = [], isDetail }: BriefSection) {
  if (isDetail)
    return (
      <details key={title}>
        <summary>
          {title} ({items.length})
        </summary>
        <ChangeList items={items} />
      </details>
    );
  return (
    <section key={title} aria-label={title}>
      <h2>{title}</h2>
      <ChangeList items={items} />
    </section>
  );
}
