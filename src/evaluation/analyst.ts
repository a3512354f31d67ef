/**
 * Analyses batches of sweeps and diagnoses them afterwards, apart from the rest of a campaign: what runs in a thread of its own.
 * It takes the same way from a sweep to its analysis as an evaluation does.
 */
import type { SweepInput } from '../analysis/analyseSweep.js';
import type { ModuleRecord } from '../campaign/model.js';
import { diagnose } from '../diagnosis/diagnose.js';
import { levelsOf } from '../diagnosis/peerLevels.js';
import { firstError } from '../sweeps/readingProblems.js';
import type { ReadingResult } from '../sweeps/sweepReading.js';
import { reducedAnalysis, rememberedAnalysis } from './analyses.js';
import type {
  AnalysedSweep,
  AnalystReply,
  AnalystRequest,
  DiagnosedSweep,
  DiagnosisTask,
  SweepTask,
} from './analystMessages.js';
import type { EvaluatedSweep } from './evaluation.js';
import { interpolatedAmong } from './interpolatedSweeps.js';
import { singleReading } from './readings.js';
import { repeatedAmong } from './repeatedSweeps.js';

/** A sweep of a batch as it was last analysed. */
type KeptSweep = Pick<EvaluatedSweep, 'address' | 'time' | 'target' | 'reading' | 'analysis'>;

export class Analyst {
  readonly #batches = new Map<number, readonly KeptSweep[]>();
  /** By what they say: each batch brings a copy of the same records, and what follows from them is worked out once. */
  readonly #modules = new Map<string, ModuleRecord>();

  answer(request: AnalystRequest): AnalystReply {
    switch (request.kind) {
      case 'analyse':
        return this.#analyse(request.batch, request.devices);
      case 'diagnose':
        return this.#diagnose(request.batch, request.sweeps, request.otherTypes);
      case 'drop':
        this.#batches.delete(request.batch);
        return undefined;
    }
  }

  #analyse(batch: number, devices: readonly (readonly SweepTask[])[]): AnalysedSweep[] {
    const kept: KeptSweep[] = [];
    const analysed: AnalysedSweep[] = [];
    for (const device of devices) {
      const sweeps = device.map((task) => this.#analysed(task));
      const interpolated = interpolatedAmong(sweeps);
      const translated = sweeps.map((sweep) => ({
        ...sweep,
        analysis: interpolated.get(sweep)?.analysis ?? sweep.analysis,
      }));
      const repeated = repeatedAmong(translated);
      sweeps.forEach((sweep, at) => {
        const own = translated[at]!;
        const pair = interpolated.get(sweep);
        const again = repeated.get(own);
        const last = { ...own, analysis: again?.analysis ?? own.analysis };
        kept.push(last);
        analysed.push({
          result: sweep.result,
          analysis: sweep.analysis,
          interpolated: pair && { partner: sweeps.indexOf(pair.partner), analysis: pair.analysis },
          repeated: again,
          levels: levelsOf(last),
        });
      });
    }
    this.#batches.set(batch, kept);
    return analysed;
  }

  #analysed({ address, time, settings, target, points }: SweepTask): KeptSweep & { result?: ReadingResult } {
    const toRead = 'bytes' in points;
    const result = toRead ? singleReading(points.bytes, points.layout) : undefined;
    const input: SweepInput = {
      settings,
      target: { ...target, module: target.module && this.#interned(target.module) },
      reading: toRead ? result!.reading : points.reading,
      readingFailure: toRead ? firstError(result!.problems, points.shown) : points.failure,
    };
    const analysis = rememberedAnalysis(input, '', input);
    return { address, time, target: input.target, reading: input.reading, analysis, result };
  }

  #diagnose(
    batch: number,
    asked: readonly DiagnosisTask[],
    types: readonly ModuleRecord[],
  ): DiagnosedSweep[] {
    const sweeps = this.#batches.get(batch)!;
    const otherTypes = types.map((type) => this.#interned(type));
    return asked.map(({ place, peers }) => {
      const sweep = sweeps[place]!;
      const diagnosis = diagnose({ ...sweep, peers, otherTypes });
      const out = diagnosis?.substringsOut ?? 0;
      return { diagnosis, reduced: out > 0 ? reducedAnalysis(sweep, out) : undefined };
    });
  }

  #interned(module: ModuleRecord): ModuleRecord {
    const key = JSON.stringify(module, (_, value: unknown) => (value instanceof Map ? [...value] : value));
    const known = this.#modules.get(key);
    if (!known) this.#modules.set(key, module);
    return known ?? module;
  }
}

/**
 * An analyst at the other end of a thread: what is to be done with each message there.
 * @param reply sends an answer back; undefined says that a request failed, and whoever asked then meets what failed by himself
 */
export function analystAtWork(reply: (answer: AnalystReply) => void): (request: AnalystRequest) => void {
  const analyst = new Analyst();
  return (request) => {
    let answer: AnalystReply;
    try {
      answer = analyst.answer(request);
    } catch {
      answer = undefined;
    }
    if (request.kind !== 'drop') reply(answer);
  };
}
