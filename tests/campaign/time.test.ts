import { describe, expect, test } from 'vitest';
import { findTimeZone, nearestTimeZone, parseTime, resolveInstant } from '../../src/campaign/time.js';

/** The instant as the platform's own tables (ICU) give it, for comparison. */
function shownIn(zone: string, instant: number): string {
  const parts = new Intl.DateTimeFormat('sv-SE', { timeZone: zone, dateStyle: 'short', timeStyle: 'medium' });
  return parts.format(instant).replace(' ', 'T');
}

describe('an instant', () => {
  test.each([
    ['Europe/London', '2026-05-14T11:42:00', '2026-05-14T11:42:00+01:00'],
    ['Europe/London', '2026-01-14T11:42:00', '2026-01-14T11:42:00+00:00'],
    ['Asia/Kolkata', '2026-05-14T11:42:30', '2026-05-14T11:42:30+05:30'],
    ['America/St_Johns', '2026-01-14T11:42:00', '2026-01-14T11:42:00-03:30'],
    ['Europe/London', '2026-03-29T00:59:59', '2026-03-29T00:59:59+00:00'],
    ['Europe/London', '2026-03-29T02:00:00', '2026-03-29T02:00:00+01:00'],
    ['Europe/London', '2026-10-25T02:00:00', '2026-10-25T02:00:00+00:00'],
  ])('in %s at %s', (zone, iso, written) => {
    const found = resolveInstant({ iso }, zone);
    expect(found).toMatchObject({ kind: 'instant', iso: written });
    if (found.kind !== 'instant') return;
    expect(found.instant).toBe(Date.parse(written));
    expect(shownIn(zone, found.instant)).toBe(iso);
  });

  test('a written offset wins over the zone', () => {
    const found = resolveInstant({ iso: '2026-05-14T11:42:00', offsetMinutes: 120 }, 'Europe/London');
    expect(found).toMatchObject({
      instant: Date.parse('2026-05-14T09:42:00Z'),
      iso: '2026-05-14T11:42:00+02:00',
    });
  });

  // Directive 2000/84/EC and the UK rules: last Sundays of March and October, 01:00 UTC.
  test('that the clock showed twice or never is told', () => {
    expect(resolveInstant({ iso: '2026-10-25T01:30:00' }, 'Europe/London')).toEqual({
      kind: 'ambiguous',
      offsetsMinutes: [60, 0],
    });
    expect(resolveInstant({ iso: '2026-03-29T01:30:00' }, 'Europe/London').kind).toBe('nonexistent');
    expect(resolveInstant({ iso: '2026-03-29T01:30:00' }, 'Asia/Kolkata').kind).toBe('instant');
  });
});

describe('a zone', () => {
  test('is known by its IANA name, spelt as the database does', () => {
    expect(findTimeZone('Europe/London')).toBe('Europe/London');
    expect(findTimeZone('europe/london')).toBe('Europe/London');
    for (const name of ['Europe/Londn', '+02:00', '', '__proto__', 'constructor', 'Europe/London\0'])
      expect(findTimeZone(name), name).toBeUndefined();
  });

  test('that is misspelt has a nearest', () => {
    expect(nearestTimeZone('Europe/Londn')).toBe('Europe/London');
    expect(nearestTimeZone('London')).toBe('Europe/London');
  });
});

describe('a time in a table', () => {
  test.each([
    ['2026-05-14 11:42', { iso: '2026-05-14T11:42:00' }],
    ['2026-05-14T11:42:30Z', { iso: '2026-05-14T11:42:30', offsetMinutes: 0 }],
    ['2026-05-14 11:42:30.250 -03:30', { iso: '2026-05-14T11:42:30', offsetMinutes: -210 }],
    ['2026-02-29 11:42', undefined],
    ['14.05.2026 11:42', { iso: '2026-05-14T11:42:00' }],
    ['31.02.2026 11:42', undefined],
    ['05/14/2026 11:42', undefined],
    ['2026-05-14 25:00', undefined],
  ])('%s', (text, expected) => {
    expect(parseTime(text)).toEqual(expected);
  });
});
