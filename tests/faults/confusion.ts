/** Many cases of each truth, counted: what is true against what is ranked first. */
import { faultCampaign } from './faultCampaign.js';
import { judged, type Answer, type Judged } from './judged.js';
import { truths, type Truth } from './truths.js';

export interface Count {
  cases: number;
  correct: number;
  readonly answers: Map<Answer, number>;
}

export interface Tally {
  /** By name of the truth, then by class of irradiance. */
  readonly counts: ReadonlyMap<Truth, Readonly<Record<IrradianceClass, Count>>>;
  /** Healthy strings beside the case. */
  readonly peers: Readonly<Record<IrradianceClass, Count>>;
}

export type IrradianceClass = 'high' | 'low';
export const irradianceClasses: Readonly<Record<IrradianceClass, string>> = {
  high: '700 W/m2 and above',
  low: '500 to 700 W/m2',
};

const newCount = (): Count => ({ cases: 0, correct: 0, answers: new Map() });
const newCounts = (): Record<IrradianceClass, Count> => ({ high: newCount(), low: newCount() });

export const classOf = ({ campaign }: Judged): IrradianceClass =>
  (campaign.plan.irradiance.before + campaign.plan.irradiance.after) / 2 >= 700 ? 'high' : 'low';

function add(count: Count, answer: Answer, correct: boolean): void {
  count.cases++;
  if (correct) count.correct++;
  count.answers.set(answer, (count.answers.get(answer) ?? 0) + 1);
}

export interface Sample {
  /** Seeds run from the first on. */
  readonly firstSeed: number;
  readonly seeds: (truth: Truth) => number;
  readonly peers: number;
  /** True irradiance is drawn from here to there, W/m2. */
  readonly irradiance?: readonly [number, number];
  readonly only?: readonly string[];
  readonly each?: (result: Judged) => void;
}

export async function tally({ firstSeed, seeds, peers, irradiance, only, each }: Sample): Promise<Tally> {
  const counts = new Map<Truth, Record<IrradianceClass, Count>>();
  const beside = newCounts();
  for (const truth of truths) {
    if (only && !only.includes(truth.name)) continue;
    const own = newCounts();
    counts.set(truth, own);
    for (let seed = firstSeed; seed < firstSeed + seeds(truth); seed++) {
      const result = await judged(faultCampaign(truth, seed, { peers, irradiance }));
      const at = classOf(result);
      add(own[at], result.answer, result.correct);
      for (const answer of result.peerAnswers) add(beside[at], answer, answer === 'healthy');
      each?.(result);
    }
  }
  return { counts, peers: beside };
}
