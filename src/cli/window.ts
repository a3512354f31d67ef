import { criteriaOf } from '../campaign/sweepTarget.js';
import type { Campaign, CriteriaRecord } from '../campaign/model.js';
import { problemLines } from '../presentation/textTable.js';
import { windowsOfDay, windowTable } from '../presentation/windowTable.js';
import { evaluateOne } from './evaluateOne.js';
import { exitStatus } from './exitStatus.js';
import { complain, type Io } from './io.js';

export interface WindowOptions {
  readonly date: string;
  readonly criteria?: string;
  readonly root?: string;
}

/** When the planes of a campaign can be measured on a day. Status 0 when every plane could be computed, window or not. */
export async function window(file: string, options: WindowOptions, io: Io): Promise<number> {
  const fail = (message: string): number => {
    complain(io, message);
    return exitStatus.notComputable;
  };
  if (!isDate(options.date)) {
    complain(io, `--date: ${options.date} is not a day of the form 2026-05-14`);
    return exitStatus.usage;
  }
  const only = await evaluateOne(file, io, options.root);
  if (typeof only === 'string') return fail(`${file}: ${only}`);
  const { campaign } = only.evaluation;
  if (campaign.planes.size === 0) {
    io.error(problemLines(only.evaluation, { display: only.display }));
    return fail(`${file}: there is no plane block, so there is nothing to turn to the sun`);
  }
  const criteria = chosenCriteria(campaign, options.criteria);
  if (typeof criteria === 'string') return fail(`${file}: ${criteria}`);
  const day = windowsOfDay(campaign, options.date, criteria);
  io.out(windowTable(day));
  const allKnown = day.planes.every(({ window: own }) => own.kind === 'known');
  return allKnown ? exitStatus.pass : exitStatus.notComputable;
}

/** A day of the calendar. */
function isDate(text: string): boolean {
  const instant = Date.parse(`${text}T00:00:00Z`);
  return /^\d{4}-\d{2}-\d{2}$/.test(text) && new Date(instant || 0).toISOString().startsWith(text);
}

/** The criteria named, or those of the campaign; a message where that is not one. */
function chosenCriteria(campaign: Campaign, name: string | undefined): CriteriaRecord | undefined | string {
  const known = [...campaign.criteria.keys()].join(', ');
  if (name !== undefined)
    return (
      campaign.criteria.get(name)?.record ?? `no criteria are named ${name}${known && `; known: ${known}`}`
    );
  const own = criteriaOf(undefined, undefined, campaign);
  if (own || campaign.criteria.size === 0) return own;
  return `several criteria are there, and the campaign names none; choose with --criteria: ${known}`;
}
