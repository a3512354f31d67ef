import type { ComponentChildren } from 'preact';
import type { BriefItem } from '../../presentation/brief.js';
import type { ChangedPlace } from '../../presentation/sourcePlace.js';
import { tellEditor } from '../editorHost.js';
import { fileName } from './basics.js';

/** What changed, each with its place. */
export function ChangeList({ items }: { items: readonly BriefItem[] }) {
  return (
    <ul class="changes">
      {items.map(({ text, places = [], at }, index) => (
        <li key={index}>
          {text}{' '}
          {at && <ChangeLink at={at}>{places.length > 0 ? places.join('; ') : 'in the text'}</ChangeLink>}
        </li>
      ))}
    </ul>
  );
}

/** Text that goes to its lines in the text diff. */
export function ChangeLink({ at, children }: { at: ChangedPlace; children: ComponentChildren }) {
  const { before, after } = at;
  const place = after ?? before;
  if (!place) return <>{children}</>;
  const go = (): void => tellEditor({ type: 'revealChange', before, after });
  return (
    <span
      role="link"
      tabIndex={0}
      class="link"
      title={`Show line ${place.line + 1} of ${fileName(place.file)} in the text diff`}
      onClick={go}
      onKeyDown={(event) => {
        if (event.key === 'Enter') go();
      }}
    >
      {children}
    </span>
  );
}
