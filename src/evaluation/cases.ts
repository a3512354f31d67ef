import type { Campaign } from '../campaign/model.js';
import { casesOf } from '../cases/casesOf.js';
import type { StringCase } from '../cases/stringCase.js';
import type { CheckedSweep } from '../checks/check.js';
import { Remembered } from './remembered.js';

const cases = new Remembered<StringCase>();

/** The cases of all strings; those to which nothing changed are the very same objects as before. */
export function rememberedCases(campaign: Campaign, sweeps: readonly CheckedSweep[]): StringCase[] {
  return casesOf(campaign, sweeps, (owner, name, dependencies, compute) =>
    cases.get(owner, name, dependencies, compute),
  );
}
