import {
  notJudged,
  type ElectricalFigure,
  type ElectricalReason,
  type Judged,
  type TakenTest,
} from './electricalTest.js';
import { ohms, ohmsBeside } from './numberWords.js';

/**
 * Continuity of protective earthing or bonding. IEC 62446-1 sets no resistance (from memory, not confirmed), so a reading in ohm
 * is judged by the limit of the criteria, and without one only by what the author says was found.
 */
export function judgeContinuity({ record, target }: TakenTest): Judged {
  const value = record.resistance?.value;
  const most = target.criteria?.continuity?.most?.value;
  const figures: ElectricalFigure[] =
    value === undefined ? [] : [{ name: 'resistance', value, unit: 'ohm', most }];
  const judged = (verdict: Judged['verdict'], ...reasons: ElectricalReason[]): Judged => ({
    verdict,
    reasons,
    figures,
  });
  if (record.result === 'open')
    return judged('fail', decisive('open', 'The conductor is interrupted.'), ...contradiction(value, most));
  if (value !== undefined && most !== undefined && value > most)
    return judged(
      'fail',
      decisive('resistance-high', `${ohmsBeside(value, most)} is above ${ohms(most, 6)} of the criteria.`),
    );
  if (value !== undefined && most !== undefined)
    return judged('pass', {
      code: 'continuous',
      text: `${ohmsBeside(value, most)}; at most ${ohms(most, 6)} by the criteria.`,
      decisive: false,
    });
  if (record.result === 'continuous')
    return judged('pass', {
      code: 'continuous',
      text: 'Found continuous; no limit in ohm is agreed.',
      decisive: false,
    });
  if (value === undefined)
    return notJudged('no-reading', 'There is no reading: write `result continuous` or `result open`.');
  const text = `${ohms(value)} was read, and no limit is agreed: write \`continuity .. 1 ohm\` in the criteria, or what was found as \`result\`.`;
  return judged('not judged', decisive('no-limit', text));
}

const decisive = (code: string, text: string): ElectricalReason => ({ code, text, decisive: true });

function contradiction(value: number | undefined, most: number | undefined): ElectricalReason[] {
  if (value === undefined || most === undefined || value > most) return [];
  return [
    {
      code: 'contradiction',
      text: `The reading of ${ohms(value)} contradicts it: one of the two is wrong.`,
      decisive: false,
    },
  ];
}
