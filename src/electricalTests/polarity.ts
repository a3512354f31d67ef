import { notJudged, type Judged, type TakenTest } from './electricalTest.js';

/** Polarity of the cables of a string. */
export function judgePolarity({ record }: TakenTest): Judged {
  if (record.result === 'reversed') return reversed(record.address.text, 'Plus and minus are exchanged.');
  if (record.result === 'correct')
    return {
      verdict: 'pass',
      reasons: [{ code: 'polarity-correct', text: 'Plus is plus.', decisive: false }],
      figures: [],
    };
  return notJudged('no-reading', 'What was found is not written: `result correct` or `result reversed`.');
}

/** A string whose plus and minus are exchanged, however that was found. */
export function reversed(address: string, text: string): Judged {
  return {
    verdict: 'fail',
    reasons: [{ code: 'polarity-reversed', text, decisive: true }],
    figures: [],
    danger:
      `Plus and minus of ${address} are exchanged. Do not connect it: against other strings or an inverter it drives a current that ` +
      'fuses and diodes may not stop, and its voltage adds to theirs. It is live in daylight, up to 1500 V DC, and an arc does not go out by itself: ' +
      'a qualified person isolates it, mends it and tests it again; local codes come first.',
  };
}
