/** Irradiance, cell temperature and sun of one sweep, each from what the campaign and the data give. */
import type { PinShadow, SweepTemperature, SweepTarget } from '../campaign/model.js';
import { standardUncertainty, type Quantity, type Uncertainty } from '../campaign/quantity.js';
import {
  cellFromModuleTemperature,
  cellTemperatureFromVoc,
  defaultBackOfModuleOffset,
} from '../physics/cellTemperature.js';
import type { DeviceCoefficients } from '../physics/deviceCoefficients.js';
import { angleOfIncidence, sunAt } from '../physics/sunPosition.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import { assumedTolerances } from './assumedTolerances.js';
import { meanOf, usableIrradiance } from './pointIrradiance.js';
import type { SweepConditions } from './sweepAnalysis.js';

/** What a sweep says of itself beside its points. */
export interface SweepSettings {
  readonly irradiance?: Quantity;
  readonly irradianceAfter?: Quantity;
  readonly rearIrradiance?: Quantity;
  readonly temperature?: SweepTemperature;
  readonly temperatureCheck?: SweepTemperature;
  /** Plane at this moment, where it moves. */
  readonly tilt?: Quantity;
  readonly azimuth?: Quantity;
  readonly pinShadow?: PinShadow;
  readonly void?: string;
  /** Milliseconds since 1970 UTC. */
  readonly instant?: number;
}

/** @param voc measured Voc in V and the device's coefficients, for a temperature that is had from Voc. */
export function conditionsOf(
  settings: SweepSettings,
  target: SweepTarget,
  reading: SweepReading | undefined,
  voc: number | undefined,
  coefficients: DeviceCoefficients | undefined,
): SweepConditions {
  const irradiance = irradianceOf(settings, target, reading);
  return {
    irradiance,
    irradianceUncertainty: expandedRelative(settings.irradiance, target.reference?.irradiance, irradiance),
    rearUncertainty: rearUncertainty(settings, target, irradiance),
    ...temperatureOf(settings, target, reading, irradiance, voc, coefficients),
    checkTemperature: checkTemperature(settings, reading, irradiance),
    vocTemperature: vocTemperature(voc, irradiance, coefficients),
    ...driftOf(settings, reading),
    ...incidenceOf(settings, target),
    points: reading?.curve.voltage.length,
  };
}

/**
 * Front irradiance, or for a bifacial module with a rear reading the equivalent irradiance G + phi Grear
 * (IEC TS 60904-1-2, from memory, not confirmed against the standard).
 */
function irradianceOf(
  settings: SweepSettings,
  target: SweepTarget,
  reading: SweepReading | undefined,
): number | undefined {
  const front = meanOf(usableIrradiance(reading)) ?? meanOfReadings(settings);
  if (front === undefined || front <= 0) return undefined;
  const rear = settings.rearIrradiance?.value;
  const bifaciality = target.module?.bifaciality?.value;
  return rear !== undefined && bifaciality !== undefined ? front + bifaciality * rear : front;
}

/** k = 2, as a fraction of the equivalent irradiance: errors of phi and of Grear in G + phi Grear, as written or as assumed. */
function rearUncertainty(
  { rearIrradiance: rear }: SweepSettings,
  { module }: SweepTarget,
  irradiance: number | undefined,
): number | undefined {
  const bifaciality = module?.bifaciality;
  if (!rear || !bifaciality || irradiance === undefined) return undefined;
  const ofBifaciality = standardUncertainty(bifaciality) ?? assumedTolerances.bifaciality;
  const ofRear = standardUncertainty(rear) ?? assumedTolerances.rearIrradiance * rear.value;
  return (2 * Math.hypot(ofBifaciality * rear.value, bifaciality.value * ofRear)) / irradiance;
}

function meanOfReadings({ irradiance, irradianceAfter }: SweepSettings): number | undefined {
  if (!irradiance || !irradianceAfter) return irradiance?.value;
  return (irradiance.value + irradianceAfter.value) / 2;
}

function driftOfReadings({ irradiance, irradianceAfter }: SweepSettings): number | undefined {
  if (!irradiance || !irradianceAfter) return undefined;
  const sum = irradiance.value + irradianceAfter.value;
  return sum > 0 ? (2 * Math.abs(irradianceAfter.value - irradiance.value)) / sum : undefined;
}

/** k = 2, as a fraction: what is written at the value wins over what the instrument declares. */
function expandedRelative(
  quantity: Quantity | undefined,
  declared: Uncertainty | undefined,
  irradiance: number | undefined,
): number | undefined {
  const written = quantity && standardUncertainty(quantity);
  if (quantity && written !== undefined) return (2 * written) / Math.abs(quantity.value);
  if (!declared) return undefined;
  const expanded = (2 * declared.value) / declared.coverageFactor;
  if (declared.relative) return expanded;
  return irradiance === undefined ? undefined : expanded / irradiance;
}

function temperatureOf(
  { temperature }: SweepSettings,
  target: SweepTarget,
  reading: SweepReading | undefined,
  irradiance: number | undefined,
  voc: number | undefined,
  coefficients: DeviceCoefficients | undefined,
): Pick<SweepConditions, 'cellTemperature' | 'temperatureUncertainty' | 'temperatureSource'> {
  const declared = target.reference?.temperature;
  const ofInstrument = declared && (2 * declared.value) / declared.coverageFactor;
  if (!temperature) {
    const cellTemperature = meanOf(reading?.temperature);
    if (cellTemperature === undefined) return {};
    return {
      cellTemperature,
      temperatureUncertainty: ofInstrument,
      temperatureSource: 'cell',
    };
  }
  if (temperature.kind === 'voc') {
    const cellTemperature = vocTemperature(voc, irradiance, coefficients);
    // The errors of Voc, beta and irradiance that move this temperature are counted where they act, in the budget.
    return { cellTemperature, temperatureUncertainty: 0, temperatureSource: 'voc' };
  }
  const written = standardUncertainty(temperature.value);
  const temperatureUncertainty = written === undefined ? ofInstrument : 2 * written;
  if (temperature.kind === 'cell') {
    return { cellTemperature: temperature.value.value, temperatureUncertainty, temperatureSource: 'cell' };
  }
  return {
    cellTemperature: cellFromReading(temperature, irradiance),
    temperatureUncertainty: withOffset(temperatureUncertainty, temperature.offset, irradiance),
    temperatureSource: 'module',
  };
}

/** k = 2, K: the offset to the cell has an error too, as written or as its usual values differ. */
function withOffset(
  expanded: number | undefined,
  offset: Quantity | undefined,
  irradiance: number | undefined,
): number | undefined {
  if (expanded === undefined || irradiance === undefined) return expanded;
  const ofOffset = offset ? (standardUncertainty(offset) ?? 0) : assumedTolerances.backOfModuleOffset;
  return Math.hypot(expanded, (2 * ofOffset * irradiance) / 1000);
}

/** Of a sensor in the cell as it is, of one behind the module with its offset. Undefined where G is needed and not known. */
function cellFromReading(
  temperature: Exclude<SweepTemperature, { kind: 'voc' }>,
  irradiance: number | undefined,
): number | undefined {
  if (temperature.kind === 'cell') return temperature.value.value;
  if (irradiance === undefined) return undefined;
  const offset = temperature.offset?.value ?? defaultBackOfModuleOffset;
  return cellFromModuleTemperature(temperature.value.value, irradiance, offset);
}

/** A second sensor as written, else the column of the table beside a temperature as written. */
function checkTemperature(
  { temperature, temperatureCheck }: SweepSettings,
  reading: SweepReading | undefined,
  irradiance: number | undefined,
): number | undefined {
  if (temperatureCheck && temperatureCheck.kind !== 'voc')
    return cellFromReading(temperatureCheck, irradiance);
  return temperature && temperature.kind !== 'voc' ? meanOf(reading?.temperature) : undefined;
}

function vocTemperature(
  voc: number | undefined,
  irradiance: number | undefined,
  coefficients: DeviceCoefficients | undefined,
): number | undefined {
  if (voc === undefined || irradiance === undefined || coefficients === undefined) return undefined;
  return cellTemperatureFromVoc(voc, irradiance, coefficients);
}

/**
 * Largest minus smallest over mean; undefined without an irradiance for each point. A reading that fell out counts here: what it
 * hides was not seen to be steady.
 */
function driftOfColumn(reading: SweepReading | undefined): number | undefined {
  const mean = meanOf(reading?.irradiance);
  if (mean === undefined) return undefined;
  let least = Infinity;
  let most = -Infinity;
  for (const value of reading!.irradiance!) {
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return (most - least) / mean;
}

function driftOf(
  settings: SweepSettings,
  reading: SweepReading | undefined,
): Pick<SweepConditions, 'drift' | 'driftUncorrected'> {
  const ofColumn = driftOfColumn(reading);
  if (ofColumn !== undefined) return { drift: ofColumn };
  const drift = driftOfReadings(settings);
  return drift === undefined ? { drift } : { drift, driftUncorrected: true };
}

type Sun = Pick<SweepConditions, 'incidence' | 'incidenceSource' | 'pinIncidence' | 'sunElevation'>;

/** Computed where time, place and plane are known; the shadow of a pin is then compared, and else stands for it. */
function incidenceOf(settings: SweepSettings, target: SweepTarget): Sun {
  const sun = sunOf(settings, target);
  const pinIncidence = settings.pinShadow?.incidence;
  if (sun.incidence !== undefined) return { ...sun, incidenceSource: 'sun', pinIncidence };
  if (pinIncidence === undefined) return sun;
  return { ...sun, incidence: pinIncidence, incidenceSource: 'pin', pinIncidence };
}

function sunOf(settings: SweepSettings, { site, plane }: SweepTarget): Sun {
  const { latitude, longitude } = site ?? {};
  if (settings.instant === undefined || latitude === undefined || longitude === undefined) return {};
  const sun = sunAt(settings.instant, latitude, longitude, site?.elevation?.value ?? 0);
  const tilt = (settings.tilt ?? plane?.tilt)?.value;
  const azimuth = (settings.azimuth ?? plane?.azimuth)?.value;
  return {
    sunElevation: sun.elevation,
    incidence: tilt === undefined || azimuth === undefined ? undefined : angleOfIncidence(tilt, azimuth, sun),
  };
}
