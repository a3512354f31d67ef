/**
 * Sweeps analysed and diagnosed by analysts, ahead of the evaluation that will ask for them: what they answer is put where the
 * evaluation looks for what it remembers, and what they do not answer it computes itself.
 */
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';
import type { Campaign, ModuleRecord } from '../campaign/model.js';
import type { Peers } from '../diagnosis/peers.js';
import { rememberLevels } from '../diagnosis/peerLevels.js';
import { firstError } from '../sweeps/readingProblems.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import { groupBy } from '../text/groups.js';
import { rememberAnalysis, rememberInterpolated, rememberReduced, rememberRepeated } from './analyses.js';
import type { AnalysedSweep, SweepTask } from './analystMessages.js';
import type { AnalystWork, Batch } from './analysts.js';
import type { ComingSweep } from './comingSweep.js';
import { isDiagnosed, rememberDiagnosis } from './diagnosedSweeps.js';
import type { EvaluatedSweep } from './evaluation.js';
import { partnerOf } from './interpolatedSweeps.js';
import { rememberReading } from './readings.js';
import { sweepsByDevice } from './byDevice.js';

/** Sweeps of a batch: so few that an editor's host, which takes up the answer in one go, hardly notices. */
const batchSize = 50;

/** Which analyst keeps a sweep that it analysed. */
interface Place {
  readonly batch: Batch;
  readonly place: number;
}

export class SweepsAhead {
  readonly #work: AnalystWork;
  readonly #places = new Map<SweepAnalysis, Place>();

  constructor(work: AnalystWork) {
    this.#work = work;
  }

  /**
   * @param breathe called after each batch; it throws to give up
   * @param done told how many sweeps are
   */
  async analyse(
    coming: readonly ComingSweep[],
    campaign: Campaign,
    breathe: Breathe,
    done: (count: number) => void,
  ): Promise<void> {
    let count = 0;
    const batches = inBatches(sweepsByDevice(coming, campaign));
    await Promise.all(
      batches.map(async (devices) => {
        const answer = await this.#work.analyse(() => tasksOf(devices));
        await breathe();
        if (!answer) return;
        let first = 0;
        for (const sweeps of devices) {
          const analysed = answer.sweeps.slice(first, first + sweeps.length);
          rememberDevice(sweeps, analysed).forEach((analysis, at) =>
            this.#places.set(analysis, { batch: answer.batch, place: first + at }),
          );
          first += sweeps.length;
        }
        done((count += answer.sweeps.length));
      }),
    );
  }

  /**
   * Those that were analysed here; each batch by the analyst that still holds it.
   * @param peersOf each of the sweeps
   */
  async diagnose(
    sweeps: readonly EvaluatedSweep[],
    peersOf: readonly (Peers | undefined)[],
    otherTypes: readonly ModuleRecord[],
    breathe: Breathe,
    done: (count: number) => void,
  ): Promise<void> {
    let count = 0;
    const asked = sweeps.flatMap((sweep, at) => {
      const place = this.#places.get(sweep.analysis);
      const peers = peersOf[at];
      return place && !isDiagnosed(sweep, peers, otherTypes) ? [{ ...place, sweep, peers }] : [];
    });
    await Promise.all(
      [...groupBy(asked, ({ batch }) => batch)].map(async ([batch, ofBatch]) => {
        const tasks = ofBatch.map(({ place, peers }) => ({ place, peers }));
        const answers = await this.#work.diagnose(batch, tasks, otherTypes);
        await breathe();
        done((count += answers?.length ?? 0));
        answers?.forEach(({ diagnosis, reduced }, at) => {
          const { sweep, peers } = ofBatch[at]!;
          rememberDiagnosis(sweep, peers, otherTypes, diagnosis);
          if (reduced)
            rememberReduced(sweep.analysis, diagnosis!.substringsOut, onReading(reduced, sweep.reading));
        });
      }),
    );
  }
}

type Breathe = () => Promise<void> | undefined;

/** The sweeps of a device stay together: they tell each other's scatter. */
function inBatches<S>(devices: readonly S[][]): S[][][] {
  const batches: S[][][] = [];
  let room = 0;
  for (const device of devices) {
    if (room < device.length) {
      batches.push([]);
      room = batchSize;
    }
    batches.at(-1)!.push(device);
    room -= device.length;
  }
  return batches;
}

/** A table that several of the sweeps name goes there once, and is read once there. */
function tasksOf(devices: readonly (readonly ComingSweep[])[]): SweepTask[][] {
  const sent = new Map<Uint8Array, Uint8Array>();
  const once = (bytes: Uint8Array): Uint8Array => {
    let own = sent.get(bytes);
    if (!own) sent.set(bytes, (own = alone(bytes)));
    return own;
  };
  return devices.map((sweeps) => sweeps.map((sweep) => taskOf(sweep, once)));
}

function taskOf(
  { address, time, settings, target, points }: ComingSweep,
  once: (bytes: Uint8Array) => Uint8Array,
): SweepTask {
  const own = { address, time, settings, target };
  if ('reading' in points) return { ...own, points };
  const { table, shown } = points;
  return { ...own, points: { bytes: once(table.bytes), layout: target.layout, shown } };
}

/** A structured clone carries over the whole buffer that bytes are a part of. */
const alone = (bytes: Uint8Array): Uint8Array =>
  bytes.length === bytes.buffer.byteLength ? bytes : bytes.slice();

/** Answers the last analysis of each sweep. */
function rememberDevice(sweeps: readonly ComingSweep[], analysed: readonly AnalysedSweep[]): SweepAnalysis[] {
  const read = sweeps.map((sweep, at) => {
    const { result, analysis } = analysed[at]!;
    const { reading, failure } = pointsOf(sweep, result);
    const own = onReading(analysis, reading);
    const input = { settings: sweep.settings, target: sweep.target, reading, readingFailure: failure };
    rememberAnalysis(sweep.owner, sweep.key, input, own);
    return { ...sweep, reading, analysis: own };
  });
  return read.map((sweep, at) => {
    const { interpolated, repeated, levels } = analysed[at]!;
    let last = sweep.analysis;
    if (interpolated) {
      const result = onReading(interpolated.analysis, sweep.reading);
      rememberInterpolated(last, partnerOf(read[interpolated.partner]!), result);
      last = result;
    }
    if (repeated) {
      const result = onReading(repeated.analysis, sweep.reading);
      rememberRepeated(last, repeated.repeatability, result);
      last = result;
    }
    rememberLevels(last, levels);
    return last;
  });
}

function pointsOf(
  { points, target }: ComingSweep,
  result: AnalysedSweep['result'],
): { readonly reading?: SweepReading; readonly failure?: string } {
  if ('reading' in points) return points;
  const { reading, problems } = rememberReading(points.table.bytes, target.layout, result!);
  return { reading, failure: firstError(problems, points.shown) };
}

/** The measured curve is the one that was read; an analyst answers with a copy of what it was given. */
function onReading(analysis: SweepAnalysis, reading: SweepReading | undefined): SweepAnalysis {
  const { measured } = analysis;
  if (!measured || !reading || measured.curve === reading.curve) return analysis;
  return { ...analysis, measured: { ...measured, curve: reading.curve } };
}
