import { describe, expect, it } from 'vitest';
import { isInside, isRelative, parentOf } from '../../src/editor/paths.js';

describe('paths of a campaign', () => {
  it.each(['sweeps/1.03.csv', './a.csv', '../modules.sweepbook', 'sweeps\\1.03.csv', 'a b.csv', 'ä.csv'])(
    'takes %s as relative',
    (written) => expect(isRelative(written)).toBe(true),
  );

  it.each([
    '',
    '/etc/hosts',
    '\\\\server\\share',
    'C:\\data.csv',
    'c:data.csv',
    'file:///etc/hosts',
    'https://x/y',
    'a\0b',
  ])('refuses %j', (written) => expect(isRelative(written)).toBe(false));

  it('knows what lies below a folder', () => {
    expect(isInside('/fen', '/fen/sweeps/a.csv')).toBe(true);
    expect(isInside('/fen/', '/fen/a.csv')).toBe(true);
    expect(isInside('/', '/a.csv')).toBe(true);
    expect(isInside('/fen', '/fen')).toBe(false);
    expect(isInside('/fen', '/fenland/a.csv')).toBe(false);
    expect(isInside('/fen/site', '/fen/a.csv')).toBe(false);
  });

  it('gives the folder of a path', () => {
    expect(parentOf('/fen/a.sweepbook')).toBe('/fen');
    expect(parentOf('/a.sweepbook')).toBe('/');
  });
});
