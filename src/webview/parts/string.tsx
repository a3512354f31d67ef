import type { ChartTheme } from '../../presentation/chartTheme.js';
import type { EventItem, ModuleCell, StringModel } from '../../presentation/stringTypes.js';
import { tellEditor } from '../editorHost.js';
import { PlaceLink, placeText, Verdict } from './basics.js';
import { Cautions } from './findings.js';
import { Overlay } from './overlay.js';

/** One string: what its sweeps say together, module by module, and what to do next. */
export function StringView({ string, theme }: { string: StringModel; theme: ChartTheme }) {
  return (
    <main class="string columns">
      <div>
        <header class="heading">
          <h1>
            <span class="address">{string.name}</span> <span class="device">{string.device}</span>
          </h1>
          <p class="when">
            {string.title}{' '}
            {string.place && <PlaceLink place={string.place}>{placeText(string.place)}</PlaceLink>}
          </p>
          <div class={`banner tone-${string.state.tone}`}>
            <Verdict mark={string.state} />
            <p>{string.proposal?.text ?? string.state.meaning}</p>
            {string.proposal && <p class="why">{string.proposal.why}</p>}
          </div>
        </header>
        <Modules modules={string.modules} evidence={string.evidence} />
        {string.remarks.length > 0 && (
          <ul class="remarks">
            {string.remarks.map((remark) => (
              <li key={remark}>{remark}</li>
            ))}
          </ul>
        )}
        <Cautions cautions={string.cautions} />
        <Events events={string.events} />
      </div>
      <div>
        <Overlay title="The whole string, at STC" data={string.wholes} theme={theme} />
        <Overlay title="Its parts, at STC" data={string.parts} theme={theme} />
        <Overlay
          title="Composed of its modules, at the conditions of the failed sweep"
          data={string.composed}
          theme={theme}
        />
      </div>
    </main>
  );
}

/** One cell for each position, from the positive end. */
function Modules({ modules, evidence }: Pick<StringModel, 'modules' | 'evidence'>) {
  if (modules.length === 0) return null;
  return (
    <section aria-labelledby="modules">
      <h2 id="modules">Modules, from the positive end</h2>
      <ol class="modules">
        {modules.map((cell) => (
          <li
            key={cell.position}
            class={`tone-${cell.mark.tone}`}
            title={`${cell.mark.word}: ${cell.because}${cell.serial === undefined ? '' : ` Serial number ${cell.serial}.`}`}
          >
            <ModuleName cell={cell} />
            <span class="shape" role="img" aria-label={cell.mark.word}>
              {cell.mark.symbol}
            </span>
          </li>
        ))}
      </ol>
      <ul class="evidence">
        {evidence.map(({ positions, mark, because }) => (
          <li key={positions + because}>
            <strong>{positions}</strong> <Verdict mark={mark} />: {because}
          </li>
        ))}
      </ul>
    </section>
  );
}

function ModuleName({ cell }: { cell: ModuleCell }) {
  const { sweepId, position } = cell;
  if (sweepId === undefined) return <span>{position}</span>;
  return (
    <button
      type="button"
      class="link"
      aria-label={`Sweep of module ${position}`}
      onClick={() => tellEditor({ type: 'choose', sweepId })}
    >
      {position}
    </button>
  );
}

function Events({ events }: { events: readonly EventItem[] }) {
  if (events.length === 0) return null;
  return (
    <section aria-labelledby="events">
      <h2 id="events">What happened</h2>
      <table class="events">
        <thead>
          <tr>
            <th scope="col">Time</th>
            <th scope="col">Of</th>
            <th scope="col">What</th>
          </tr>
        </thead>
        <tbody>
          {events.map((event, index) => (
            <tr key={index}>
              <th scope="row">
                <EventTime event={event} />
              </th>
              <td>{event.address}</td>
              <td class="what">
                {event.verdict && <Mark mark={event.verdict} />} {event.text}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** The shape alone, before a text that says the word. */
function Mark({ mark }: { mark: { readonly word: string; readonly symbol: string; readonly tone: string } }) {
  return (
    <span class={`verdict tone-${mark.tone}`} title={mark.word}>
      <span class="shape" aria-hidden="true">
        {mark.symbol}
      </span>
    </span>
  );
}

function EventTime({ event }: { event: EventItem }) {
  const { sweepId } = event;
  if (sweepId === undefined) return <PlaceLink place={event.place}>{event.time}</PlaceLink>;
  return (
    <button type="button" class="link" onClick={() => tellEditor({ type: 'choose', sweepId })}>
      {event.time}
    </button>
  );
}
