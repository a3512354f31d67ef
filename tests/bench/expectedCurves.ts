/** What a thread of the bench runs: the curve that each sweep should read, from the nameplate. */
import { parentPort } from 'node:worker_threads';
import type { Conditions } from '../../src/physics/ivCurve.js';
import { atConditions } from '../../src/physics/nameplateModel.js';
import { inSeriesParallel, sampleCurve } from '../../src/physics/singleDiode.js';
import { modulesOfString, solvedNameplate } from './generate.js';

/** The sweeps' conditions; answered by their curves. */
export type ExpectationTask = readonly Conditions[];

export function serveExpectedCurves(): void {
  const device = solvedNameplate();
  parentPort!.on('message', (task: ExpectationTask) =>
    parentPort!.postMessage(
      task.map((at) => sampleCurve(inSeriesParallel(atConditions(device, at), modulesOfString, 1), 128)),
    ),
  );
}
