import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { sweepText } from '../sweeps/fixtures.js';
import { campaignText } from '../bringIn/campaign.js';
import * as foreign from '../bringIn/foreignTables.js';
import { folderOf, shell } from './runInFolder.js';

const text = (bytes: Uint8Array) => new TextDecoder().decode(bytes);
const plain = sweepText(foreign.points, { header: ['U (V)', 'I (A)'] });
const slashes = text(foreign.slashes('05/14/2026', '1.08'));

const folder = (files: Readonly<Record<string, string>>) =>
  folderOf({ 'c.sweepbook': campaignText, ...files });
const read = (at: string, name = 'c.sweepbook') => readFileSync(path.join(at, name), 'utf8');

describe('bring-in', () => {
  it('says what it understood, and prints without writing', async () => {
    const at = folder({ 'sweeps/a.csv': slashes });
    const { status, out, error } = await shell(at, [
      'bring-in',
      'sweeps',
      '--into',
      'c.sweepbook',
      '--print',
    ]);
    expect(out).toBe(
      'sweep 1.08 at 2026-05-14 13:05\n  irradiance  815 W/m2\n  temperature 44.4 degC cell\n  data        "sweeps/a.csv"\n  with        T1, RC1\n',
    );
    expect(error).toContain('sweeps/a.csv: 90 points, Isc 11.20 A, Voc 640');
    expect(error).toContain('nothing was written');
    expect([status, read(at)]).toEqual([0, campaignText]);
  });

  it('writes behind the campaign, once', async () => {
    const at = folder({ 'sweeps/a.csv': slashes });
    const args = ['bring-in', 'sweeps/*.csv', '--into', 'c.sweepbook', '--with', 'T1,RC1'];
    expect((await shell(at, args)).status).toBe(0);
    const written = read(at);
    expect(written.startsWith(`${campaignText}\nsweep 1.08 at 2026-05-14 13:05\n`)).toBe(true);
    expect(written.endsWith('  with        T1, RC1\n')).toBe(true);
    const again = await shell(at, args);
    expect(again.out).toContain('sweeps/a.csv: The campaign names it already.');
    expect([again.status, read(at)]).toEqual([0, written]);
    const { out } = await shell(at, ['check', 'c.sweepbook']);
    expect(out).toMatch(/1\.08/);
  });

  it('takes the only tracer and the only reference, and says what is missing where there are several', async () => {
    const text = `${campaignText}\nreference RC2\n  irradiance ± 3 %\n`;
    const at = folderOf({ 'c.sweepbook': text, 'a.csv': slashes });
    const args = ['bring-in', 'a.csv', '--into', 'c.sweepbook'];
    const open = await shell(at, [...args, '--print']);
    expect(open.status).toBe(2);
    expect(open.error).toContain('  missing: with (which of T1, RC1, RC2)\n');
    expect(open.out).not.toContain('with');
    expect((await shell(at, [...args, '--with', 'T1,RC2'])).status).toBe(0);
    expect(read(at)).toMatch(/ {2}with {8}T1, RC2\n$/);
  });

  it('takes the tables below a folder, in whatever letters their names end', async () => {
    const names = ['1.csv', '2.CSV', '3.Txt', 'deep/4.TXT', '5.DAT', '6.tsv', '7.TSV'];
    const at = folder(Object.fromEntries([...names, 'notes.md'].map((name) => [name, plain])));
    const { error } = await shell(at, ['bring-in', '.', '--into', 'c.sweepbook', '--print']);
    expect(error).toContain(`of ${names.length} files`);
    const byPattern = await shell(at, ['bring-in', '**', '--into', 'c.sweepbook', '--print']);
    expect(byPattern.error).toContain(`of ${names.length + 1} files`);
  });

  it('takes what is missing from its options, for the files that lack it', async () => {
    const at = folder({ '1.03.csv': plain, 'sub/a.csv': slashes });
    const args = ['bring-in', '.', '--into', 'c.sweepbook'];
    const bare = await shell(at, args);
    expect(bare.status).toBe(2);
    expect(bare.out).toContain('missing: time, irradiance, temperature');
    const given = ['--time', '2026-05-14 11:42', '--irradiance', '800 W/m2', '--temperature', '44 degC cell'];
    expect((await shell(at, [...args, ...given])).status).toBe(0);
    expect(read(at)).toContain('sweep 1.03 at 2026-05-14 11:42\n  irradiance  800 W/m2\n');
    expect(read(at)).toContain('  irradiance  815 W/m2\n');
  });

  it('keeps the line ends of the file', async () => {
    const at = folderOf({ 'c.sweepbook': campaignText.replaceAll('\n', '\r\n'), 'a.csv': slashes });
    await shell(at, ['bring-in', 'a.csv', '--into', 'c.sweepbook']);
    expect(read(at).replaceAll('\r\n', '')).not.toContain('\n');
  });

  it('prints without a campaign what needs none', async () => {
    const at = folder({ 'a.csv': plain });
    const args = [
      'bring-in',
      'a.csv',
      '--address',
      '9.9',
      '--time',
      '2026-05-14 11:42',
      '--irradiance',
      '800 W/m2',
    ];
    const { out, status } = await shell(at, args);
    expect(out).toBe('sweep 9.9 at 2026-05-14 11:42\n  irradiance 800 W/m2\n  data       "a.csv"\n');
    expect(status).toBe(2);
  });

  it.each([
    [['a.csv', '--into', 'no.sweepbook'], 2, 'no such file'],
    [['a.csv', '--into', 'a.csv'], 2, 'not a campaign file'],
    [['a.csv', '--into', 'c.sweepbook', '--irradiance', '812'], 3, '--irradiance 812'],
    [['a.csv', '--into', 'c.sweepbook', '--address', '9.9'], 3, 'no string 9.9'],
    [['a.csv', '--into', 'c.sweepbook', '--with', 'T9'], 3, 'no such tracer'],
  ])('refuses %j', async (args, status, message) => {
    const at = folder({ 'a.csv': plain });
    const answer = await shell(at, ['bring-in', ...args]);
    expect(answer.error).toContain(message);
    expect([answer.status, read(at)]).toEqual([status, campaignText]);
  });

  it('leaves out what lies outside, is missing, or is no table', async () => {
    const at = folder({ 'in/c.sweepbook': campaignText, 'a.csv': plain, 'in/b.csv': 'words\n' });
    const args = ['bring-in', '../a.csv', 'none.csv', 'b.csv', '--into', 'c.sweepbook'];
    const { out, status } = await shell(path.join(at, 'in'), args);
    expect(out).toContain('../a.csv: It lies outside');
    expect(out).toContain('none.csv: There is no such file.');
    expect(out).toMatch(/b\.csv: .*No table of numbers/);
    expect([status, read(at, 'in/c.sweepbook')]).toEqual([2, campaignText]);
  });
});
