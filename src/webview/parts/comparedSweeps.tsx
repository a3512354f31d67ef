import { Fragment } from 'preact';
import { useState } from 'preact/hooks';
import type { ComparedSweepItem } from '../../presentation/differenceModel.js';
import { tellEditor } from '../editorHost.js';
import { tableText } from '../tableText.js';
import { Turned } from './turned.js';
import { bySweep, CopyTable, mostRows, SearchBox, ShownCount, SweepHead } from './listParts.js';
import { inOrderOf, numberOf, SortHeads, type Order } from './sorting.js';

type Column = 'sweep' | 'verdict' | 'before' | 'after' | 'change' | 'cause';

const columns: readonly (readonly [Column, string])[] = [
  ['sweep', 'Sweep'],
  ['verdict', 'Verdict'],
  ['before', 'Pmax before'],
  ['after', 'After'],
  ['change', 'Change'],
  ['cause', 'Cause'],
];

const kinds = {
  turned: 'verdict turned',
  beyond: 'moved beyond its uncertainty',
} as const;
type Kind = keyof typeof kinds;

/** Sweeps that moved or whose verdict turned; filtered by address, by what happened and by cause. */
export function ComparedSweeps(props: { sweeps: readonly ComparedSweepItem[]; chosen: string | undefined }) {
  const { sweeps, chosen } = props;
  const [words, setWords] = useState('');
  const [kind, setKind] = useState<Kind | ''>('');
  const [cause, setCause] = useState('');
  const [order, setOrder] = useState<Order<Column>>();
  if (sweeps.length === 0) return null;
  const causes = [...new Set(sweeps.flatMap((item) => item.causes))];
  const found = sweeps.filter(
    (item) =>
      (kind === '' || isOfKind(item, kind)) &&
      (!causes.includes(cause) || item.causes.includes(cause)) &&
      `${item.address} ${item.time}`.toLowerCase().includes(words.trim().toLowerCase()),
  );
  const sorted = inOrderOf(found, order, compare);
  return (
    <section aria-labelledby="moved">
      <h2 id="moved">Sweeps that moved or turned, at STC</h2>
      <p class="filters">
        <SearchBox label="Address or time" placeholder="Address or time" words={words} setWords={setWords} />
        <select
          aria-label="What happened"
          value={kind}
          onChange={(event) => setKind(event.currentTarget.value as Kind | '')}
        >
          <option value="">moved or turned</option>
          {Object.entries(kinds).map(([value, word]) => (
            <option key={value} value={value}>
              {word}
            </option>
          ))}
        </select>
        <select aria-label="Cause" value={cause} onChange={(event) => setCause(event.currentTarget.value)}>
          <option value="">any cause</option>
          {causes.map((word) => (
            <option key={word}>{word}</option>
          ))}
        </select>
        <CopyTable text={() => listText(sorted)} />
      </p>
      <div class="compared-list">
        <table class="sweeps compared" role="table" aria-labelledby="moved">
          <SortHeads columns={columns} order={order} setOrder={setOrder} />
          <tbody role="rowgroup">
            {/* By position: ids move with every line that is written above. */}
            {sorted.slice(0, mostRows).map((item, index) => (
              <Row key={index} item={item} isChosen={item.id === chosen} />
            ))}
          </tbody>
        </table>
      </div>
      <ShownCount found={found.length} all={sweeps.length} />
    </section>
  );
}

function isOfKind({ before, after, beyondUncertainty }: ComparedSweepItem, kind: Kind): boolean {
  return kind === 'turned' ? before.verdict !== after.verdict : beyondUncertainty;
}

function Row({ item, isChosen }: { item: ComparedSweepItem; isChosen: boolean }) {
  const [first, ...others] = item.causes;
  return (
    <tr
      role="row"
      aria-current={isChosen ? 'true' : undefined}
      onClick={() => tellEditor({ type: 'choose', sweepId: item.id })}
    >
      <SweepHead address={item.address} time={item.time} />
      <td role="cell">
        <Turned before={item.before} after={item.after} />
      </td>
      <td role="cell" class="number g">
        {item.pmaxBefore}
      </td>
      <td role="cell" class="number g">
        {item.pmaxAfter}
      </td>
      <td role="cell" class="number also">
        <span class="whole">{item.change}</span>
        {item.beyondUncertainty && <span class="time">beyond its uncertainty</span>}
        <span class="time">
          {item.also.map((movement) => (
            <Fragment key={movement}>
              <span class="whole">{movement}</span>{' '}
            </Fragment>
          ))}
        </span>
      </td>
      <td role="cell" class="cause t" title={item.causes.join(', ')}>
        {first ?? 'not traced'}
        {others.length > 0 && <span class="time">and {others.length} more</span>}
      </td>
    </tr>
  );
}

function compare(a: ComparedSweepItem, b: ComparedSweepItem, by: Column): number {
  switch (by) {
    case 'sweep':
      return bySweep(a, b);
    case 'verdict':
      return turnWords(a).localeCompare(turnWords(b));
    case 'before':
      return numberOf(a.pmaxBefore) - numberOf(b.pmaxBefore);
    case 'after':
      return numberOf(a.pmaxAfter) - numberOf(b.pmaxAfter);
    case 'change':
      return numberOf(a.change) - numberOf(b.change);
    case 'cause':
      return (a.causes[0] ?? '').localeCompare(b.causes[0] ?? '');
  }
}

const turnWords = ({ before, after }: ComparedSweepItem): string =>
  before.verdict === after.verdict ? after.word : `${before.word} -> ${after.word}`;

function listText(sweeps: readonly ComparedSweepItem[]): string {
  return tableText([
    ['Sweep', 'Time', 'Verdict', 'Pmax before', 'Pmax after', 'Change', 'Also', 'Causes'],
    ...sweeps.map((item) => [
      item.address,
      item.time,
      turnWords(item),
      item.pmaxBefore,
      item.pmaxAfter,
      item.change,
      item.also.join(', '),
      item.causes.join(', '),
    ]),
  ]);
}
