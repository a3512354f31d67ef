import type { InstrumentRecord } from '../campaign/model.js';
import { shiftRange, type Place } from '../text/place.js';
import type { FileProblem } from '../text/problem.js';
import type { Check, CheckInput, CheckedSweep } from './check.js';

/** Once for each instrument, at its calibration, with the first sweep that shows it. */
export const calibrationExpired: Check = {
  id: 'instrument/calibration-expired',
  says: 'An instrument was used after its calibration interval had ended, or before its calibration.',
  concerns: (sweep) => instrumentsOf(sweep).some((instrument) => complaint(instrument, sweep.time)),
  run: (input) => {
    const reported = new Set<InstrumentRecord>();
    return input.sweeps.flatMap((sweep) =>
      instrumentsOf(sweep).flatMap((instrument) => {
        const message = reported.has(instrument) ? undefined : complaint(instrument, sweep.time);
        if (!message) return [];
        reported.add(instrument);
        return problemAt(instrument, message, input, sweep.place);
      }),
    );
  },
};

const instrumentsOf = ({ target: { tracer, reference } }: CheckedSweep): InstrumentRecord[] =>
  [tracer, reference].filter((instrument) => instrument !== undefined);

function complaint(
  { name, calibrated, intervalMonths }: InstrumentRecord,
  time: string | undefined,
): string | undefined {
  if (!calibrated || time === undefined) return undefined;
  const day = time.slice(0, 10);
  if (day < calibrated.text) {
    return `${name.text} was used on ${day}, before its calibration on ${calibrated.text}; give the calibration that was in force.`;
  }
  if (intervalMonths === undefined) return undefined;
  const end = monthsLater(calibrated.text, intervalMonths);
  if (day <= end) return undefined;
  return `${name.text} was used on ${day}; its calibration of ${calibrated.text} was good for ${intervalMonths} months, to ${end}.`;
}

/** ISO date; the last day of a shorter month stands for a day it does not have. */
export function monthsLater(date: string, months: number): string {
  const [year, month, day] = date.split('-').map(Number) as [number, number, number];
  const first = new Date(Date.UTC(year, month - 1 + months, 1));
  const lastDay = new Date(Date.UTC(first.getUTCFullYear(), first.getUTCMonth() + 1, 0)).getUTCDate();
  first.setUTCDate(Math.min(day, lastDay));
  return first.toISOString().slice(0, 10);
}

function problemAt(
  instrument: InstrumentRecord,
  message: string,
  { campaign }: CheckInput,
  usedAt: Place,
): FileProblem[] {
  const placed = campaign.instruments.get(instrument.name.text);
  if (!placed || !instrument.calibrated) return [];
  return [
    {
      id: calibrationExpired.id,
      severity: 'warning',
      file: placed.block.file,
      range: shiftRange(instrument.calibrated.range, placed.block.startLine),
      message,
      related: [{ place: usedAt, message: 'Used here.' }],
    },
  ];
}
