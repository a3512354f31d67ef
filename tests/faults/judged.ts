/** What the tool says of a case, through its public door alone. */
import type { Cause, CauseCode, Diagnosis } from '../../src/diagnosis/diagnosis.js';
import { evaluateText } from '../evaluation/memoryFiles.js';
import type { FaultCampaign } from './faultCampaign.js';

/** The first-ranked cause; `healthy`; or that the sweep carries no diagnosis. */
export type Answer = CauseCode | 'healthy' | 'no diagnosis' | 'no cause';

export interface Judged {
  readonly campaign: FaultCampaign;
  readonly answer: Answer;
  readonly correct: boolean;
  readonly causes: readonly Cause[];
  /** What is said of the healthy strings beside it; empty where they too read wrong. */
  readonly peerAnswers: readonly Answer[];
}

export async function judged(campaign: FaultCampaign): Promise<Judged> {
  const { truth, seed, peers } = campaign;
  const { sweeps, problems } = await evaluateText(campaign.text, campaign.tables);
  const error = problems.find(({ severity }) => severity === 'error');
  if (error) throw new Error(`${truth.name} ${seed}: ${error.id}: ${error.message}`);
  const diagnosisOf = (address: string): Diagnosis | undefined =>
    sweeps.find((sweep) => sweep.address === address)?.diagnosis;
  const diagnosis = diagnosisOf(campaign.address);
  const answer = answerOf(diagnosis);
  const first = truth.first ?? 'healthy';
  const equal: readonly Answer[] = peers.length === 0 ? (truth.equalAlone?.codes ?? []) : [];
  return {
    campaign,
    answer,
    correct: answer === first || equal.includes(answer),
    causes: diagnosis?.causes ?? [],
    peerAnswers: truth.sensorLight ? [] : peers.map((address) => answerOf(diagnosisOf(address))),
  };
}

function answerOf(diagnosis: Diagnosis | undefined): Answer {
  if (!diagnosis) return 'no diagnosis';
  if (diagnosis.healthy) return 'healthy';
  return diagnosis.causes[0]?.code ?? 'no cause';
}
