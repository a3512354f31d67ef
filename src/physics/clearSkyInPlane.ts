/** The irradiance that a clear sky may be expected to give in a plane. An expectation for planning, never a measurement. */
import { angleOfIncidence, clearSkyHorizontal, solarConstant, type SunPosition } from './sunPosition.js';

/** Below this elevation (sin 3 deg) the ratio of two small numbers says nothing; all light then counts as diffuse. */
const leastHeight = Math.sin((3 * Math.PI) / 180);

const cosine = (degrees: number): number => Math.cos((degrees * Math.PI) / 180);

/**
 * Fraction of the horizontal irradiance that is diffuse, for a clearness index from 0 to 1 (horizontal irradiance over that
 * outside the atmosphere). D. G. Erbs, S. A. Klein, J. A. Duffie, Solar Energy 28 (1982) 293-302, hourly correlation;
 * coefficients from memory, held against the values that pvlib-python tests its implementation with.
 */
export function diffuseFraction(clearness: number): number {
  const k = Math.min(1, Math.max(0, clearness));
  if (k <= 0.22) return 1 - 0.09 * k;
  if (k > 0.8) return 0.165;
  return 0.9511 - 0.1604 * k + 4.388 * k ** 2 - 16.638 * k ** 3 + 12.336 * k ** 4;
}

export interface IrradianceParts {
  /** On a surface that faces the sun, W/m2. */
  readonly beam: number;
  /** Diffuse on the horizontal, W/m2. */
  readonly diffuse: number;
  /** On the horizontal, W/m2. */
  readonly horizontal: number;
}

/** Beam and diffuse parts of a horizontal irradiance (W/m2), by the correlation of Erbs, Klein and Duffie. */
export function splitHorizontal(
  horizontal: number,
  sun: Pick<SunPosition, 'zenith' | 'distance'>,
): IrradianceParts {
  const height = cosine(sun.zenith);
  if (!(height > leastHeight) || !(horizontal > 0))
    return { beam: 0, diffuse: Math.max(0, horizontal), horizontal: Math.max(0, horizontal) };
  const outside = (solarConstant / sun.distance ** 2) * height;
  const diffuse = horizontal * diffuseFraction(horizontal / outside);
  return { beam: (horizontal - diffuse) / height, diffuse, horizontal };
}

/**
 * Irradiance in a plane, W/m2, of `parts`: beam by the cosine of its incidence, sky and ground by the isotropic view
 * factors. B. Y. H. Liu, R. C. Jordan, Solar Energy 7 (1963) 53-74. Angles in degrees, azimuth clockwise from north.
 */
export function onPlane(
  parts: IrradianceParts,
  sun: Pick<SunPosition, 'zenith' | 'azimuth'>,
  tilt: number,
  azimuth: number,
  albedo = 0.2,
): number {
  const direct = parts.beam * Math.max(0, cosine(angleOfIncidence(tilt, azimuth, sun)));
  const fromSky = (parts.diffuse * (1 + cosine(tilt))) / 2;
  const fromGround = (albedo * parts.horizontal * (1 - cosine(tilt))) / 2;
  return direct + fromSky + fromGround;
}

/**
 * Expected irradiance in a plane under a clear sky, W/m2: horizontal irradiance of Haurwitz (1946), split by Erbs, Klein and
 * Duffie (1982), laid on the plane isotropically (Liu and Jordan 1963). Depends on nothing but the sun, so haze, humidity
 * and height above the sea move the true value by 10 % and more (common practice, no source). 0 with the sun below the
 * horizon.
 */
export function clearSkyInPlane(sun: SunPosition, tilt: number, azimuth: number, albedo = 0.2): number {
  const parts = splitHorizontal(clearSkyHorizontal(sun.zenith), sun);
  return onPlane(parts, sun, tilt, azimuth, albedo);
}
