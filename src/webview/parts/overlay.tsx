import { overlaySpec } from '../../presentation/chartSpecs.js';
import type { ChartTheme } from '../../presentation/chartTheme.js';
import { overlayDashes } from '../../presentation/overlaySpec.js';
import type { OverlayData } from '../../presentation/stringTypes.js';
import { Chart } from './chart.js';
import { useHidden } from './hidden.js';

/** Curves over one another, with a key that puts each out of sight. */
export function Overlay({ title, data, theme }: { title: string; data: OverlayData; theme: ChartTheme }) {
  const [hidden, toggle] = useHidden();
  if (data.series.length === 0) return null;
  const rows = data.rows.filter(({ series }) => !hidden.has(series));
  return (
    <section class="overlay" aria-label={title}>
      <h2>{title}</h2>
      <ul class="key">
        {data.series.map(({ name, role, pmax }) => (
          <li key={name} class={`role-${role}`}>
            <button
              type="button"
              class="toggle"
              aria-pressed={!hidden.has(name)}
              onClick={() => toggle(name)}
            >
              <svg width="34" height="12" viewBox="0 0 34 12" aria-hidden="true">
                <line
                  x1="0"
                  y1="6"
                  x2="34"
                  y2="6"
                  stroke-width="1.75"
                  stroke-dasharray={overlayDashes[role].join(' ')}
                />
              </svg>
              {name} <span class="number">{pmax}</span>
            </button>
          </li>
        ))}
      </ul>
      <Chart
        spec={overlaySpec(theme, { width: 'container', height: 230 })}
        data={{ overlay: rows }}
        description={data.description}
        name={title}
      />
    </section>
  );
}
