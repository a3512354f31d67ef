import { describe, expect, it } from 'vitest';
import {
  airMass,
  angleOfIncidence,
  clearSkyHorizontal,
  planeIrradianceBound,
  standardPressure,
  sunAt,
  sunTimes,
} from '../../src/physics/sunPosition.js';
import { readTable } from './checkData.js';

const example = Object.fromEntries(
  readTable('spa-example.csv').map((row) => [row['symbol']!, Number(row['value'])]),
) as Record<string, number>;
const instant = Date.parse('2003-10-17T12:30:30-07:00');

describe('worked example of NREL/TP-560-34302', () => {
  const air = { pressure: example['P']!, temperature: example['T']! };
  const sun = sunAt(instant, example['lat']!, example['lon']!, example['elev']!, air);

  it('zenith 50.111622, azimuth 194.340241 degrees, within 0.0015', () => {
    expect(Math.abs(sun.zenith - example['zenith']!)).toBeLessThan(1.5e-3);
    expect(Math.abs(sun.azimuth - example['azimuth']!)).toBeLessThan(1.5e-3);
    expect(sun.elevation).toBeCloseTo(90 - sun.zenith, 12);
    // The example's distance is from the centre of the earth.
    expect(Math.abs(sun.distance - example['R']!)).toBeLessThan(5e-5);
  });

  it('incidence 25.187 degrees on the plane tilted 30 degrees to compass azimuth 170, within 0.0015', () => {
    const azimuth = 180 + example['azm_rot']!;
    expect(Math.abs(angleOfIncidence(example['slope']!, azimuth, sun) - example['incidence']!)).toBeLessThan(
      1.5e-3,
    );
  });

  it('the standard atmosphere of the elevation serves where the air is not known', () => {
    const plain = sunAt(instant, example['lat']!, example['lon']!, example['elev']!);
    expect(Math.abs(plain.zenith - example['zenith']!)).toBeLessThan(2e-3);
  });
});

describe('rise, transit and set', () => {
  // pvlib-python, tests/test_solarposition.py. The first site is from the NREL web calculator, which counts days in UTC: the
  // sunset that it lists for 2015-08-02 is that of the evening before, local time (the table of the US Naval Observatory in
  // the same file has 19:13 for 2015-08-02).
  it.each([
    ['2015-01-02', 39.742476, -105.1786, '-07:00', '07:21:55', '12:04:45', '16:47:43'],
    ['2015-08-02', 39.742476, -105.1786, '-07:00', '05:00:27', '12:06:58', undefined],
    ['2015-08-01', 39.742476, -105.1786, '-07:00', undefined, undefined, '19:13:58'],
    ['1996-07-05', -35, 0, 'Z', '07:08:15', '12:04:36', '17:01:04'],
    ['2004-12-04', -35, 0, 'Z', '04:38:57', '11:50:22', '19:02:03'],
  ])('%s at %d, %d within 3 s', (day, latitude, longitude, zone, rise, transit, set) => {
    const times = sunTimes(Date.parse(`${day}T00:00:00${zone}`), latitude, longitude);
    const expectAt = (found: number | undefined, time: string | undefined): void => {
      if (time === undefined) return;
      expect(Math.abs(found! - Date.parse(`${day}T${time}${zone}`)) / 1000).toBeLessThan(3);
    };
    expectAt(times.rise, rise);
    expectAt(times.transit, transit);
    expectAt(times.set, set);
  });

  it('has no rise or set in the polar summer', () => {
    const times = sunTimes(Date.parse('2026-06-21T00:00:00Z'), 75, 20);
    expect([times.rise, times.set]).toEqual([undefined, undefined]);
    expect(times.transit).toBeGreaterThan(0);
  });
});

describe('geometry and air', () => {
  it.each(readTable('aoi-cases.csv'))('incidence of $aoi_deg degrees', (row) => {
    const angle = angleOfIncidence(Number(row['surface_tilt']), Number(row['surface_azimuth']), {
      zenith: Number(row['solar_zenith']),
      azimuth: Number(row['solar_azimuth']),
    });
    expect(Math.abs(angle - Number(row['aoi_deg']))).toBeLessThan(2e-5);
  });

  it('air mass of Kasten and Young', () => {
    // pvlib-python, tests/test_atmosphere.py, tolerance 0.001.
    expect(airMass(100)).toBeUndefined();
    expect(airMass(89.9)).toBeCloseTo(36.467, 3);
    expect(airMass(80)).toBeCloseTo(5.586, 3);
    expect(airMass(0)).toBeCloseTo(1, 3);
  });

  it('pressure of the standard atmosphere', () => {
    // pvlib-python, tests/test_atmosphere.py: 1013.25 hPa at sea level, 898.7475 hPa at 1000 m.
    expect(standardPressure(0)).toBeCloseTo(1013.25, 1);
    expect(Math.abs(standardPressure(1000) / 898.7475 - 1)).toBeLessThan(1e-3);
  });

  it.each(readTable('clearsky-haurwitz.csv'))(
    'clear sky of Haurwitz at $apparent_elevation_deg degrees',
    (row) => {
      expect(clearSkyHorizontal(90 - Number(row['apparent_elevation_deg']))).toBeCloseTo(
        Number(row['ghi_W_m2']),
        6,
      );
    },
  );
});

describe('bound of the irradiance in the plane', () => {
  const sun = (elevation: number) => ({ elevation, zenith: 90 - elevation, azimuth: 180, distance: 1 });

  it.each(readTable('clearsky-ineichen.csv'))(
    'lies above a clear sky at zenith $apparent_zenith_deg',
    (row) => {
      // Facing the sun and lying flat, under the clear sky of Ineichen with Linke turbidity 3.
      const at = sun(90 - Number(row['apparent_zenith_deg']));
      const facing = Number(row['dni']) + Number(row['dhi']);
      expect(planeIrradianceBound(at, at.zenith, 180)).toBeGreaterThan(facing);
      expect(planeIrradianceBound(at, 0, 180)).toBeGreaterThan(Number(row['ghi']));
    },
  );

  it('catches a clock that is wrong: the sun below the horizon, low, or behind the plane', () => {
    expect(planeIrradianceBound(sun(-1), 25, 180)).toBeLessThan(50);
    expect(planeIrradianceBound(sun(-20), 25, 180)).toBeLessThan(10);
    expect(planeIrradianceBound(sun(5), 25, 180)).toBeLessThan(500);
    expect(planeIrradianceBound(sun(30), 70, 0)).toBeLessThan(400);
  });

  it('stays within what sunlight can do', () => {
    for (let elevation = 0; elevation <= 90; elevation += 5) {
      expect(planeIrradianceBound(sun(elevation), 90 - elevation, 180, 2000)).toBeLessThan(1361 * 1.3);
    }
  });
});
