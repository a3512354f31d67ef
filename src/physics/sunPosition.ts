/** Where the sun stands, how it meets a plane, and how bright a plane can be. Angles in degrees, times in ms since 1970 UTC. */
import {
  Atmosphere,
  Body,
  Equator,
  Horizon,
  Observer,
  Refraction,
  SearchHourAngle,
  SearchRiseSet,
} from 'astronomy-engine';

export interface SunPosition {
  /** Above the horizon, with refraction. */
  readonly elevation: number;
  /** 90 - elevation. */
  readonly zenith: number;
  /** Clockwise from north, 0 to 360. */
  readonly azimuth: number;
  /** Distance from earth, astronomical units. */
  readonly distance: number;
}

/** Air at the site, for refraction. */
export interface Air {
  /** hPa. */
  readonly pressure: number;
  /** degC. */
  readonly temperature: number;
}

/**
 * The sun at a moment, seen from `latitude` (degrees north), `longitude` (degrees east) and `elevation` (m above sea level).
 * Good to 0.01 degrees between 1900 and 2100. Refraction as in Reda and Andreas, NREL/TP-560-34302, equation 42 (Saemundsson's
 * formula, scaled by pressure and temperature); `air` defaults to the standard atmosphere at `elevation` and 10 degC.
 */
export function sunAt(
  instant: number,
  latitude: number,
  longitude: number,
  elevation = 0,
  air: Air = { pressure: standardPressure(elevation), temperature: 10 },
): SunPosition {
  const date = new Date(instant);
  const observer = new Observer(latitude, longitude, elevation);
  const { ra, dec, dist } = Equator(Body.Sun, date, observer, true, true);
  const { altitude, azimuth } = Horizon(date, observer, ra, dec);
  const airFactor = (air.pressure / 1010) * (283 / (273 + air.temperature));
  const apparent = altitude + Refraction('normal', altitude) * airFactor;
  return { elevation: apparent, zenith: 90 - apparent, azimuth, distance: dist };
}

/** Pressure of the standard atmosphere, hPa, at `elevation` m above sea level. */
export function standardPressure(elevation: number): number {
  return Atmosphere(Math.min(Math.max(elevation, -500), 10_000)).pressure / 100;
}

export interface SunTimes {
  /** Upper limb at the horizon, refracted; undefined where the sun does not rise within a day. */
  readonly rise: number | undefined;
  /** Sun due south or north, at its highest. */
  readonly transit: number;
  readonly set: number | undefined;
}

/** The first rise, transit and set of the sun within a day after `instant`, at sea level. */
export function sunTimes(instant: number, latitude: number, longitude: number): SunTimes {
  const date = new Date(instant);
  const observer = new Observer(latitude, longitude, 0);
  return {
    rise: SearchRiseSet(Body.Sun, observer, 1, date, 1)?.date.getTime(),
    transit: SearchHourAngle(Body.Sun, observer, 0, date).time.date.getTime(),
    set: SearchRiseSet(Body.Sun, observer, -1, date, 1)?.date.getTime(),
  };
}

const radians = (degrees: number): number => (degrees * Math.PI) / 180;
const cosine = (degrees: number): number => Math.cos(radians(degrees));
const sine = (degrees: number): number => Math.sin(radians(degrees));

/**
 * Angle between the sun and the normal of a plane, 0 to 180; beyond 90 the sun is behind it. `tilt` from horizontal,
 * `azimuth` of the plane clockwise from north. NREL/TP-560-34302, 3.16, with azimuths counted from north.
 */
export function angleOfIncidence(
  tilt: number,
  azimuth: number,
  sun: Pick<SunPosition, 'zenith' | 'azimuth'>,
): number {
  const projection =
    cosine(sun.zenith) * cosine(tilt) + sine(sun.zenith) * sine(tilt) * cosine(sun.azimuth - azimuth);
  return (Math.acos(Math.min(1, Math.max(-1, projection))) * 180) / Math.PI;
}

/**
 * Relative optical air mass at sea level for an apparent zenith angle; undefined with the sun below the horizon. F. Kasten,
 * A. T. Young, Applied Optics 28 (1989) 4735-4738.
 */
export function airMass(zenith: number): number | undefined {
  if (zenith > 90) return undefined;
  return 1 / (cosine(zenith) + 0.50572 * (96.07995 - zenith) ** -1.6364);
}

/** Clear-sky global horizontal irradiance, W/m2, for an apparent zenith angle. B. Haurwitz, J. Meteorology 3 (1946) 123-124. */
export function clearSkyHorizontal(zenith: number): number {
  const c = cosine(zenith);
  return zenith < 90 && c > 0 ? 1098 * c * Math.exp(-0.059 / c) : 0;
}

/** Total solar irradiance at one astronomical unit, W/m2. G. Kopp, J. L. Lean, Geophys. Res. Lett. 38 (2011) L01706. */
export const solarConstant = 1361;

/**
 * Irradiance of the direct beam, W/m2, through an atmosphere of clean and dry air (Linke turbidity 1): no sky on earth lets
 * more through. Rayleigh optical depth of F. Kasten, Solar Energy 56 (1996) 239-244, in the form of the European Solar
 * Radiation Atlas (Rigollier, Bauer, Wald, Solar Energy 68 (2000) 33-48); constants from memory, not confirmed.
 */
function beamThroughCleanAir(sun: SunPosition, elevation: number): number {
  const relative = airMass(sun.zenith);
  if (relative === undefined) return 0;
  const m = (relative * standardPressure(elevation)) / standardPressure(0);
  const depth =
    m <= 20
      ? 1 / (6.6296 + 1.7513 * m - 0.1202 * m ** 2 + 0.0065 * m ** 3 - 0.00013 * m ** 4)
      : 1 / (10.4 + 0.718 * m);
  return (solarConstant / sun.distance ** 2) * Math.exp(-0.8662 * m * depth);
}

/**
 * An irradiance in the plane (W/m2) that no reading should pass. A reading above it means a wrong clock or time zone, a wrong
 * plane, or a wrong sensor. Deliberately generous, so that bright clouds beside the sun do not raise it in vain: the beam
 * through clean dry air, diffuse light of 30 % of the horizontal irradiance outside the atmosphere (a clear sky has about
 * 10 %) plus 30 W/m2, and ground light of the given `albedo`. The allowances are common practice, no source. With the sun
 * below the horizon only twilight is left: 30 W/m2 down to 6 degrees below, then 5 W/m2.
 */
export function planeIrradianceBound(
  sun: SunPosition,
  tilt: number,
  azimuth: number,
  elevation = 0,
  albedo = 0.2,
): number {
  if (sun.elevation < 0) return sun.elevation > -6 ? 30 : 5;
  const beam = beamThroughCleanAir(sun, elevation);
  const height = cosine(sun.zenith);
  const diffuse = 0.3 * (solarConstant / sun.distance ** 2) * height + 30;
  const onPlane = beam * Math.max(0, cosine(angleOfIncidence(tilt, azimuth, sun)));
  const fromSky = (diffuse * (1 + cosine(tilt))) / 2;
  const fromGround = (albedo * (beam * height + diffuse) * (1 - cosine(tilt))) / 2;
  return onPlane + fromSky + fromGround;
}
