import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { shell } from './shell.js';

const folder = mkdtempSync(path.join(tmpdir(), 'window-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** The site and surface of NREL/TP-560-34302, its example time on the clock of the zone: 13:30:30, incidence 25.187 degrees. */
const text = `site golden
  position  39.742476 N, 105.1786 W
  elevation 1830.14 m
  timezone  America/Denver
plane surface
  tilt    30 deg
  azimuth 170 deg
plane east
  tilt    60 deg
  azimuth 90 deg
criteria close
  incidence .. 25.187 deg
criteria bright
  irradiance 1500 W/m2 ..
`;
const file = (content: string): string => {
  writeFileSync(path.join(folder, 'c.sweepbook'), content);
  return 'c.sweepbook';
};

it('ends the window at the last minute before the incidence of the worked example is passed', async () => {
  const args = ['window', file(text), '--date', '2003-10-17', '--criteria', 'close'];
  const { status, out } = await shell(folder, ...args);
  expect(status).toBe(0);
  expect(out).toMatch(/plane surface: \d\d:\d\d to 13:30 \(-06:00\)/);
  expect(out).toMatch(/ {2}end +13:30-06:00 +39\.9 deg +194\.\d deg +25\.1 deg +\d+ W\/m2/);
  expect(out).toContain('plane east: ');
});

it('says why there is none, which is an answer', async () => {
  const args = ['window', file(text), '--date', '2003-10-17', '--criteria', 'bright'];
  const { status, out } = await shell(folder, ...args);
  expect(status).toBe(0);
  expect(out).toMatch(/plane surface: none\. The expected irradiance reaches \d+ W\/m2 at/);
});

it('answers 2 where criteria, site or plane leave it open, and says what would decide', async () => {
  const several = await shell(folder, 'window', file(text), '--date', '2003-10-17');
  expect(several).toMatchObject({ status: 2, out: '' });
  expect(several.error).toContain('choose with --criteria: close, bright');
  const args = ['window', file(text), '--date', '2003-10-17', '--criteria', 'dim'];
  expect((await shell(folder, ...args)).error).toContain('known: close, bright');
  const without = text.replace(/ {2}timezone.*\n/, '');
  const zoneless = ['window', file(without), '--date', '2003-10-17', '--criteria', 'close'];
  expect(await shell(folder, ...zoneless)).toMatchObject({
    status: 2,
    out: expect.stringContaining('Site golden gives no timezone.') as string,
  });
  const empty = await shell(folder, 'window', file('# nothing\n'), '--date', '2003-10-17');
  expect(empty).toMatchObject({ status: 2, error: expect.stringContaining('no plane block') as string });
  expect((await shell(folder, 'window', 'no.sweepbook', '--date', '2003-10-17')).status).toBe(2);
});

it('answers 3 where the day is missing or is none', async () => {
  expect((await shell(folder, 'window', file(text))).status).toBe(3);
  for (const day of ['2003-02-30', 'today', '17.10.2003', '2003-13-01'])
    expect((await shell(folder, 'window', file(text), '--date', day)).status).toBe(3);
});
