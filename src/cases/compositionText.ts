/** What a composition says, in words. */
import type { Composition, Watts } from './composition.js';
import { listText, percentText } from './words.js';

const watts = ({ value, uncertainty }: Watts): string =>
  `${value.toFixed(0)} W ± ${uncertainty.toFixed(0)} W`;

export function compositionText(c: Omit<Composition, 'text'>): string {
  return [answer(c), forecast(c)].join(' ');
}

function answer({
  string,
  deficit,
  explained,
  unexplained,
  explains,
  costs,
}: Omit<Composition, 'text'>): string {
  const found = costs.map(({ address }) => address);
  const cost = found.length > 1 ? 'cost' : 'costs';
  const lacks = `${listText(found)} ${cost} ${watts(explained.atSweep)} at the conditions of the sweep, and ${string} lacks ${watts(deficit.atSweep)}`;
  const left = watts({ ...unexplained.atSweep, value: Math.abs(unexplained.atSweep.value) });
  switch (explains) {
    case 'yes':
      return `${lacks}: that explains it, within the uncertainty.`;
    case 'in part':
      return `${lacks}: that explains it in part; ${left} are still to be found.`;
    case 'too much':
      return `${lacks}: that is ${left} more than the string lacks, so one of the sweeps was taken under other conditions than it says, or of another module.`;
    case 'no':
      return `${lacks}: that does not explain it.`;
  }
}

function forecast({ forecast: { pmax, deviation, uncertainty, read } }: Omit<Composition, 'text'>): string {
  const said = `${watts(pmax)} at STC (${percentText(deviation)} ± ${(100 * uncertainty).toFixed(1)} % from the nameplate)`;
  if (!read) return `With sound modules in their places the string should read ${said}.`;
  const off = watts({ ...read.difference, value: Math.abs(read.difference.value) });
  const side = read.difference.value < 0 ? 'below' : 'above';
  return read.agrees
    ? `With sound modules in their places the string should read ${said}; it read ${read.pmax.toFixed(0)} W, which agrees.`
    : `With sound modules in their places the string should read ${said}; it read ${read.pmax.toFixed(0)} W, ${off} ${side} it.`;
}
