import type { ComponentChildren } from 'preact';
import type { SourcePlace } from '../../presentation/sourcePlace.js';
import type { StateMark } from '../../presentation/caseWords.js';
import { tellEditor } from '../editorHost.js';

/** A verdict or a state as word and shape; the colour only repeats them. */
export function Verdict({ mark }: { mark: Omit<StateMark, 'ascii'> }) {
  return (
    <span class={`verdict tone-${mark.tone}`} title={mark.meaning}>
      <span class="shape" aria-hidden="true">
        {mark.symbol}
      </span>
      {mark.word}
    </span>
  );
}

/** Text that goes to its line in the editor. Not a button: a button breaks out of the flow of a sentence. */
export function PlaceLink(props: { place: SourcePlace | undefined; children: ComponentChildren }) {
  const { place, children } = props;
  if (!place) return <>{children}</>;
  const go = (): void => tellEditor({ type: 'reveal', place, focus: true });
  return (
    <span
      role="link"
      tabIndex={0}
      class="link"
      title={`Go to line ${place.line + 1} of ${fileName(place.file)}`}
      onClick={go}
      onKeyDown={(event) => {
        if (event.key === 'Enter') go();
      }}
    >
      {children}
    </span>
  );
}

/** The last part of a URI or a path. */
export function fileName(file: string): string {
  const last = file.slice(file.lastIndexOf('/') + 1);
  try {
    return decodeURIComponent(last);
  } catch {
    return last;
  }
}

export function placeText(place: SourcePlace): string {
  return `${fileName(place.file)}:${place.line + 1}`;
}
