import { describe, expect, it } from 'vitest';
import {
  clearSkyInPlane,
  diffuseFraction,
  onPlane,
  splitHorizontal,
} from '../../src/physics/clearSkyInPlane.js';
import { clearSkyHorizontal } from '../../src/physics/sunPosition.js';
import { readTable } from './checkData.js';

const sun = (zenith: number, azimuth = 180, distance = 1) => ({
  zenith,
  elevation: 90 - zenith,
  azimuth,
  distance,
});

describe('beam and diffuse by Erbs, Klein and Duffie', () => {
  // pvlib-python, tests/test_irradiance.py, test_erbs (commit 05c6ec05f294): horizontal irradiance, zenith, and the beam and
  // diffuse irradiance for 1 January and 20 June. There the ratio to the irradiance outside the atmosphere is kt; the distance
  // of the sun is chosen to give that ratio.
  it.each([
    [50, 85, 96.7192672, 41.5703604, 0.405723511],
    [1000, 10, 794.205651, 217.860117, 0.718132729],
    [1000, 10, 842.001578, 170.790318, 0.768214312],
  ])('%d W/m2 at zenith %d', (horizontal, zenith, beam, diffuse, clearness) => {
    const outside = horizontal / clearness / Math.cos((zenith * Math.PI) / 180);
    const parts = splitHorizontal(horizontal, sun(zenith, 180, Math.sqrt(1361 / outside)));
    expect(Math.abs(parts.beam - beam)).toBeLessThan(0.01);
    expect(Math.abs(parts.diffuse - diffuse)).toBeLessThan(0.01);
  });

  it('is all diffuse in the dark, and 0.165 beyond a clearness of 0.8', () => {
    // The last value: Erbs, Klein and Duffie (1982), as the tests of an independent port state it.
    expect(diffuseFraction(0)).toBe(1);
    expect(diffuseFraction(0.9)).toBe(0.165);
    expect(splitHorizontal(0, sun(120))).toEqual({ beam: 0, diffuse: 0, horizontal: 0 });
  });
});

describe('isotropic transposition', () => {
  it('sky: 100 W/m2 on a tilt of 40 degrees is 88.30222 W/m2', () => {
    // pvlib-python, tests/test_irradiance.py, test_isotropic_float.
    const sky = onPlane({ beam: 0, diffuse: 100, horizontal: 0 }, sun(30), 40, 180);
    expect(sky).toBeCloseTo(88.30222215594891, 10);
  });

  it('ground: 900 W/m2, albedo 0.25, on a tilt of 40 degrees is 26.32 W/m2', () => {
    // pvlib-python, tests/test_irradiance.py, test_get_ground_diffuse_simple_float (its default albedo is 0.25).
    const ground = onPlane({ beam: 0, diffuse: 0, horizontal: 900 }, sun(30), 40, 180, 0.25);
    expect(ground).toBeCloseTo(26.32000014911496, 10);
  });

  it('beam: 939.95 W/m2 on tilt 40, azimuth 180 is 798.3194 W/m2', () => {
    // pvlib-python, tests/test_irradiance.py, test_poa_components, third row.
    const beam = onPlane(
      { beam: 939.95469881, diffuse: 0, horizontal: 0 },
      sun(10.56413562, 144.76567754),
      40,
      180,
    );
    expect(beam).toBeCloseTo(798.31939281, 5);
  });
});

describe('clear sky in a plane', () => {
  it.each(readTable('clearsky-haurwitz.csv'))(
    'lies flat as Haurwitz has it at $apparent_elevation_deg degrees',
    (row) => {
      const at = sun(90 - Number(row['apparent_elevation_deg']));
      expect(clearSkyInPlane(at, 0, 180)).toBeCloseTo(Number(row['ghi_W_m2']), 6);
    },
  );

  it.each(readTable('clearsky-ineichen.csv').filter((row) => Number(row['apparent_zenith_deg']) < 50))(
    'is within 10 % of the clear sky of Ineichen facing the sun at zenith $apparent_zenith_deg',
    (row) => {
      // Two models of a clear sky; that they are close is all that is expected (common practice, no source).
      const at = sun(Number(row['apparent_zenith_deg']));
      const facing = onPlane(
        { beam: Number(row['dni']), diffuse: Number(row['dhi']), horizontal: Number(row['ghi']) },
        at,
        at.zenith,
        180,
      );
      expect(Math.abs(clearSkyInPlane(at, at.zenith, 180) / facing - 1)).toBeLessThan(0.1);
    },
  );

  it('never passes what reaches a plane that faces the sun, and is dark at night', () => {
    for (let zenith = 0; zenith < 90; zenith += 5) {
      const horizontal = clearSkyHorizontal(zenith);
      expect(clearSkyInPlane(sun(zenith), zenith, 180)).toBeGreaterThanOrEqual(horizontal * 0.99);
      expect(clearSkyInPlane(sun(zenith), 90, 0)).toBeLessThanOrEqual(horizontal);
    }
    expect(clearSkyInPlane(sun(95), 30, 180)).toBe(0);
  });
});
