/** The table of checks that look at a whole campaign. A new warning is one file and one line here. */
import { calibrationExpired } from './calibrationExpired.js';
import type { Check } from './check.js';
import { dataUsedTwice } from './dataUsedTwice.js';
import { implausibleDeviation } from './implausibleDeviation.js';
import { irradianceAboveClearSky } from './irradianceAboveClearSky.js';
import { irradianceDisagreement } from './irradianceDisagreement.js';
import { pinShadow } from './pinShadow.js';
import { rearIrradianceMissing } from './rearIrradianceMissing.js';
import { rearIrradianceUnused } from './rearIrradianceUnused.js';
import { referencePartsUndeclared } from './referencePartsUndeclared.js';
import { serialNumbers } from './serialNumbers.js';
import { spectralMismatch } from './spectralMismatch.js';
import { sunBelowHorizon } from './sunBelowHorizon.js';
import { sweepRepeated } from './sweepRepeated.js';
import { temperatureDisagreement } from './temperatureDisagreement.js';
import { translationDistance } from './translationDistance.js';

export const checks: readonly Check[] = [
  calibrationExpired,
  dataUsedTwice,
  implausibleDeviation,
  irradianceAboveClearSky,
  irradianceDisagreement,
  pinShadow,
  rearIrradianceMissing,
  rearIrradianceUnused,
  referencePartsUndeclared,
  serialNumbers,
  spectralMismatch,
  sunBelowHorizon,
  sweepRepeated,
  temperatureDisagreement,
  translationDistance,
];
