import type { ElectricalItem } from './electricalModel.js';
import { html, type Html } from './htmlText.js';
import { verdictHtml } from './pageSweep.js';

/** Continuity, polarity, insulation and meter readings; nothing where the campaign has none. */
export function electricalTable(items: readonly ElectricalItem[], summary: string): Html | undefined {
  if (items.length === 0) return undefined;
  const dangers = items.flatMap(({ danger }) => danger ?? []);
  return html`<section>
    <h2>Other electrical tests</h2>
    <p>${summary}.</p>
    ${dangers.map((text) => html`<p class="caution"><b>Danger.</b> ${text}</p>`)}
    <div class="scroll">
      <table>
        <caption>
          String tests of IEC 62446-1. In brackets: deviation of a meter reading from the nameplate at the
          conditions of the reading, or else from like strings.
        </caption>
        <thead>
          <tr>
            <th scope="col">device</th>
            <th scope="col">test</th>
            <th scope="col">time</th>
            <th scope="col">reading</th>
            <th scope="col">verdict</th>
            <th scope="col">why</th>
          </tr>
        </thead>
        <tbody>
          ${items.map(
            (item) =>
              html` <tr>
                <th scope="row" class="w">${item.address}</th>
                <td>${item.kind}</td>
                <td class="w">${item.time}</td>
                <td>${item.reading}</td>
                <td>${verdictHtml(item.verdict)}${item.replaced ? ' (repeated later)' : undefined}</td>
                <td>${item.reasons.join(' ')}</td>
              </tr>`,
          )}
        </tbody>
      </table>
    </div>
  </section>`;
}
