import type { ViewName } from '../../messages/previewMessages.js';
import type { CampaignHead } from '../../presentation/previewTypes.js';
import { tellEditor } from '../editorHost.js';

const names: readonly (readonly [ViewName, string, string])[] = [
  ['sweep', 'Sweep', 'One sweep: curves, parameters, verdict and what it rests on'],
  ['string', 'String', 'One string: all its sweeps, its modules and the state of its case'],
  ['campaign', 'Campaign', 'All strings and sweeps'],
];

/** Which of the three views is on show, and what holds the panel at it. */
export function Views({ view, head, held }: { view: ViewName; head: CampaignHead; held: boolean }) {
  return (
    <nav class="views" aria-label="Views">
      {names.map(([name, word, meaning]) => (
        <button
          key={name}
          type="button"
          class="view"
          aria-current={name === view ? 'page' : undefined}
          title={meaning}
          onClick={() => tellEditor({ type: 'view', view: name })}
        >
          {word}
        </button>
      ))}
      <span class="summary">{head.summary}</span>
      <button
        type="button"
        class="hold"
        aria-pressed={held}
        title="Hold: the panel stays at what it shows wherever the cursor goes"
        onClick={() => tellEditor({ type: 'hold', held: !held })}
      >
        {held ? 'Held' : 'Hold'}
      </button>
    </nav>
  );
}
