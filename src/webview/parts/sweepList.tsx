import { useState } from 'preact/hooks';
import type { SweepListItem } from '../../presentation/previewTypes.js';
import { tellEditor } from '../editorHost.js';
import { Verdict } from './basics.js';
import { bySweep, CopyTable, mostRows, SearchBox, ShownCount, SweepHead } from './listParts.js';
import { inOrderOf, numberOf, SortHeads, type Order } from './sorting.js';
import { tableText } from '../tableText.js';

type Column = 'sweep' | 'verdict' | 'deviation' | 'irradiance' | 'cell';

const columns: readonly (readonly [Column, string])[] = [
  ['sweep', 'Sweep'],
  ['verdict', 'Verdict'],
  ['deviation', 'Deviation of Pmax'],
  ['irradiance', 'Irradiance'],
  ['cell', 'Cell temperature'],
];

/** All sweeps, in reading order until a head is pressed; filtered by address and by verdict. */
export function SweepList({ sweeps }: { sweeps: readonly SweepListItem[] }) {
  const [words, setWords] = useState('');
  const [verdict, setVerdict] = useState('');
  const [order, setOrder] = useState<Order<Column>>();
  const verdicts = [...new Set(sweeps.map((item) => item.verdict.word))];
  const found = sweeps.filter(
    (item) =>
      (verdict === '' || item.verdict.word === verdict) &&
      `${item.address} ${item.time} ${item.device}`.toLowerCase().includes(words.trim().toLowerCase()),
  );
  const sorted = inOrderOf(found, order, compare);
  return (
    <section aria-labelledby="list">
      <h2 id="list">Sweeps</h2>
      <p class="filters">
        <SearchBox
          label="Address, time or module type"
          placeholder="Address, time or type"
          words={words}
          setWords={setWords}
        />
        <select
          aria-label="Verdict"
          value={verdict}
          onChange={(event) => setVerdict(event.currentTarget.value)}
        >
          <option value="">any verdict</option>
          {verdicts.map((word) => (
            <option key={word}>{word}</option>
          ))}
        </select>
        <CopyTable text={() => listText(sorted)} />
      </p>
      <table class="sweeps" role="table" aria-labelledby="list">
        <SortHeads columns={columns} order={order} setOrder={setOrder} />
        <tbody role="rowgroup">
          {/* By position: ids move with every line that is written above. */}
          {sorted.slice(0, mostRows).map((item, index) => (
            <SweepRow key={index} item={item} />
          ))}
        </tbody>
      </table>
      <ShownCount found={found.length} all={sweeps.length} />
    </section>
  );
}

function SweepRow({ item }: { item: SweepListItem }) {
  const choose = (): void => tellEditor({ type: 'choose', sweepId: item.id });
  return (
    <tr role="row" title={item.headline || undefined} onClick={choose}>
      <SweepHead address={item.address} time={item.time} />
      <td role="cell">
        <Verdict mark={item.verdict} />
      </td>
      <td role="cell" class="number">
        {item.deviation} <span class="uncertainty">{item.uncertainty}</span>
      </td>
      <td role="cell" class="number g">
        {item.irradiance}
      </td>
      <td role="cell" class="number t">
        {item.cellTemperature}
      </td>
    </tr>
  );
}

function compare(a: SweepListItem, b: SweepListItem, by: Column): number {
  switch (by) {
    case 'sweep':
      return bySweep(a, b);
    case 'verdict':
      return a.verdict.word.localeCompare(b.verdict.word);
    case 'deviation':
      return numberOf(a.deviation) - numberOf(b.deviation);
    case 'irradiance':
      return numberOf(a.irradiance) - numberOf(b.irradiance);
    case 'cell':
      return numberOf(a.cellTemperature) - numberOf(b.cellTemperature);
  }
}

function listText(sweeps: readonly SweepListItem[]): string {
  return tableText([
    [
      'Sweep',
      'Time',
      'Verdict',
      'Deviation of Pmax',
      'Uncertainty (95.45 %)',
      'Irradiance',
      'Cell temperature',
    ],
    ...sweeps.map((item) => [
      item.address,
      item.time,
      item.verdict.word,
      item.deviation,
      item.uncertainty,
      item.irradiance,
      item.cellTemperature,
    ]),
  ]);
}
