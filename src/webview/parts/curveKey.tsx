import type { PreviewModel } from '../../presentation/previewTypes.js';

type Series = 'measured' | 'translated' | 'nameplate';

const words: Readonly<Record<Series, string>> = {
  measured: 'measured',
  translated: 'translated to STC',
  nameplate: 'nameplate at STC',
};

/** What each line of the two charts is: a sample of its colour, dash and mark, with the maximum power it stands for. */
export function CurveKey(props: {
  sweep: PreviewModel;
  hidden: ReadonlySet<string>;
  toggle: (series: string) => void;
}) {
  const { sweep, hidden, toggle } = props;
  const power = sweep.parameters.find(({ parameter }) => parameter === 'pmax');
  const drawn = new Set<string>(sweep.charts.curves.map(({ series }) => series));
  return (
    <ul class="key" aria-label="Curves and their maximum power">
      {(Object.keys(words) as Series[])
        .filter((series) => drawn.has(words[series]))
        .map((series) => (
          <li key={series} class={`series-${series}`}>
            <button
              type="button"
              class="toggle"
              aria-pressed={!hidden.has(words[series])}
              title={hidden.has(words[series]) ? 'Draw it' : 'Put it out of sight'}
              onClick={() => toggle(words[series])}
            >
              <Sample series={series} />
              {words[series]} {power && <span class="number">{power[series]}</span>}
            </button>
          </li>
        ))}
    </ul>
  );
}

/** The same dashes and shapes as presentation/chartSpecs.ts draws. */
function Sample({ series }: { series: Series }) {
  const dash = { measured: '5 3', translated: undefined, nameplate: '9 3 2 3' }[series];
  return (
    <svg width="34" height="12" viewBox="0 0 34 12" aria-hidden="true">
      <line x1="0" y1="6" x2="34" y2="6" stroke-width="1.75" stroke-dasharray={dash} />
      {series === 'measured' && <circle cx="17" cy="6" r="4" />}
      {series === 'translated' && <path d="M17 0.5 21.5 6 17 11.5 12.5 6z" />}
      {series === 'nameplate' && <rect x="13" y="2" width="8" height="8" />}
    </svg>
  );
}
