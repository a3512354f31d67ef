/** What checks of irradiance ask of a sweep: the light that may have fallen on its plane, at its time or at another. */
import { shiftRange, type Range } from '../text/place.js';
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';
import { clearSkyInPlane } from '../physics/clearSkyInPlane.js';
import { planeIrradianceBound, sunAt, type SunPosition } from '../physics/sunPosition.js';
import type { CheckedSweep } from './check.js';

/** W/m2 that reached the front: what was written or read, without the share of a rear reading. */
export function frontIrradiance({ record, target, analysis }: CheckedSweep): number | undefined {
  const { irradiance } = analysis.conditions;
  const rear = record.kind === 'sweep' ? record.rearIrradiance?.value : undefined;
  const bifaciality = target.module?.bifaciality?.value;
  if (irradiance === undefined || rear === undefined || bifaciality === undefined) return irradiance;
  return irradiance - bifaciality * rear;
}

export interface BoundAtTime {
  readonly sun: SunPosition;
  /** W/m2 that no reading should pass, see physics/sunPosition.ts. */
  readonly bound: number;
  /** W/m2 that a clear sky may be expected to give, see physics/clearSkyInPlane.ts. */
  readonly expected: number;
  /** False: tilt and azimuth are not known, and the bound is that of a plane that faces the sun. */
  readonly planeKnown: boolean;
  /** Of the plane, or of one that faces the sun; degrees. */
  readonly tilt: number;
  readonly azimuth: number;
}

/** Undefined without the position of the site. */
export function boundAt(sweep: CheckedSweep, instant: number): BoundAtTime | undefined {
  const { site, plane } = sweep.target;
  if (site?.latitude === undefined || site.longitude === undefined) return undefined;
  const elevation = site.elevation?.value ?? 0;
  const sun = sunAt(instant, site.latitude, site.longitude, elevation);
  const own = sweep.record.kind === 'sweep' ? sweep.record : undefined;
  const tilt = (own?.tilt ?? plane?.tilt)?.value;
  const azimuth = (own?.azimuth ?? plane?.azimuth)?.value;
  const planeKnown = tilt !== undefined && azimuth !== undefined;
  const facing = Math.min(90, Math.max(0, sun.zenith));
  const [onTilt, toAzimuth] = planeKnown ? [tilt, azimuth] : [facing, sun.azimuth];
  const albedo = plane?.albedo?.value;
  const bound = planeIrradianceBound(sun, onTilt, toAzimuth, elevation, albedo);
  const expected = clearSkyInPlane(sun, onTilt, toAzimuth, albedo);
  return { sun, bound, expected, planeKnown, tilt: onTilt, azimuth: toAzimuth };
}

const bounds = new WeakMap<SweepAnalysis, BoundAtTime>();

/** At the time of the sweep; undefined without one. Remembered with its analysis, which an edit elsewhere leaves alone. */
export function boundOf(sweep: CheckedSweep): BoundAtTime | undefined {
  if (sweep.instant === undefined) return undefined;
  const known = bounds.get(sweep.analysis);
  if (known) return known;
  const found = boundAt(sweep, sweep.instant);
  if (found) bounds.set(sweep.analysis, found);
  return found;
}

/** Where the time of a sweep is written: its own, else the header of the block that names the table. */
export function timeRange({ record, block, place }: CheckedSweep): Range {
  return record.kind === 'sweep' && record.time
    ? shiftRange(record.time.range, block.startLine)
    : place.range;
}
