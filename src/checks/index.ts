/** The table of checks that look at a whole campaign. A new warning is one file and one line here. */
import { calibrationExpired } from './calibrationExpired.js';
import type { Check } from './check.js';
import { dataUsedTwice } from './dataUsedTwice.js';
import { sunBelowHorizon } from './sunBelowHorizon.js';
import { sweepRepeated } from './sweepRepeated.js';

export const checks: readonly Check[] = [calibrationExpired, dataUsedTwice, sunBelowHorizon, sweepRepeated];
