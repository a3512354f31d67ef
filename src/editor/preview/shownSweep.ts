/** Which sweep a panel shows when the campaign was computed anew. Knows no editor. */
import type { EvaluatedSweep, Evaluation } from '../../evaluation/evaluation.js';
import { timeText } from '../../presentation/sweepTexts.js';

/** A sweep by what stays when lines move. */
export interface SweepMemory {
  readonly address?: string;
  /** As the campaign has it, or as the page shows and keeps it. */
  readonly time?: string;
  /** A string that was chosen without one of its sweeps. */
  readonly string?: string;
}

export function rememberSweep({ address, time }: EvaluatedSweep): SweepMemory {
  return { address, time };
}

/** The same sweep again; else one of the same address; else the first. */
export function findSweep({ sweeps }: Evaluation, memory: SweepMemory): EvaluatedSweep | undefined {
  return sameSweep(sweeps, memory) ?? sweeps[0];
}

/** Of some sweeps the same one again; else one of the same address. */
export function sameSweep(
  sweeps: readonly EvaluatedSweep[],
  memory: SweepMemory,
): EvaluatedSweep | undefined {
  const address = memory.address ?? memory.string;
  const ofAddress = sweeps.filter((sweep) => sweep.address === address);
  const time = timeText(memory.time);
  return ofAddress.find((sweep) => timeText(sweep.time) === time) ?? ofAddress[0];
}

/** The string of the view of one string: the one chosen, else that of the sweep. */
export const stringShown = (sweep: EvaluatedSweep | undefined, { string }: SweepMemory): string | undefined =>
  string ?? sweep?.address.split('/')[0];

/** The last sweep written above a line of a file: what a cursor between two blocks is near to. */
export function sweepAbove({ sweeps }: Evaluation, file: string, line: number): EvaluatedSweep | undefined {
  return sweeps
    .filter(({ block }) => block.file === file && block.startLine <= line)
    .reduce<EvaluatedSweep | undefined>(
      (nearest, sweep) => (nearest && nearest.block.startLine >= sweep.block.startLine ? nearest : sweep),
      undefined,
    );
}
