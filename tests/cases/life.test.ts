/** States of a case over the sweeps, replacements and acceptances of a campaign. All of it is invented. */
import { describe, expect, it } from 'vitest';
import { casesOf } from '../../src/cases/casesOf.js';
import { caseAfter, diagnosed, failed, passed, positionsWith, replaced, told, type Line } from './story.js';

const stateAfter = async (...lines: Line[]): Promise<string> => (await caseAfter(lines)).state;

describe('the state of a case', () => {
  it.each<[string, string, Line[]]>([
    ['a string that passes', 'sound', [passed('S')]],
    ['a note alone', 'not known', ['note S at {time} "Looks dusty."']],
    ['a sweep under cloud', 'not known', [{ address: 'S', verdict: 'not judged' }]],
    ['a failed string', 'open', [failed('S')]],
    [
      'a string that fails by less than the uncertainty',
      'open',
      [failed('S', -0.05, { verdict: 'conditional fail' })],
    ],
    ['a failed module', 'located', [failed('S'), failed('S/11', -0.8)]],
    ['a failed module of a string that passes', 'located', [passed('S'), failed('S/11', -0.2)]],
    ['a module replaced', 'replaced', [failed('S'), failed('S/11', -0.8), replaced('S/11')]],
    [
      'the new module swept alone',
      'replaced',
      [failed('S'), failed('S/11'), replaced('S/11'), passed('S/11')],
    ],
    ['a counter-check that passed', 'verified', [failed('S'), failed('S/11'), replaced('S/11'), passed('S')]],
    [
      'a counter-check under cloud',
      'replaced',
      [failed('S'), failed('S/11'), replaced('S/11'), { address: 'S', verdict: 'not judged' }],
    ],
    ['a void sweep', 'sound', [passed('S'), { address: 'S', verdict: 'void', deviation: -0.5 }]],
    ['a replacement without any sweep', 'replaced', [replaced('S/3')]],
    ['a failed string that passed later, with nothing replaced', 'verified', [failed('S'), passed('S')]],
    ['an acceptance', 'waived', [failed('S'), 'accept S "shaded by the chimney" by "site manager"']],
    [
      'an acceptance of the module',
      'waived',
      [failed('S'), failed('S/11'), 'accept S/11 "cracked glass, watched"'],
    ],
    ['an acceptance where nothing failed', 'sound', [passed('S'), 'accept S "to be sure"']],
    [
      'a verified string that was accepted before',
      'verified',
      [failed('S'), 'accept S "until repaired"', replaced('S/2'), passed('S')],
    ],
  ])('%s: %s', async (_name, state, lines) => {
    expect(await stateAfter(...lines)).toBe(state);
  });

  it('opens by the shape of a curve that passes its limit', async () => {
    const shape = diagnosed('substring-out', { substringsOut: 1 });
    const found = await caseAfter([passed('S', { deviation: -0.019, diagnosis: shape })]);
    expect(found.state).toBe('open');
    expect(found.events[0]!.text).toBe(
      'Passed, and its shape shows a fault: Pmax -1.9 %. It looks like substring-out.',
    );
    expect(found.proposal).toMatchObject({ kind: 'halves', addresses: ['S/1-9'], disconnects: true });
  });

  it('does not open for a weak hint, nor for a loss within the limit that all modules share', async () => {
    const hint = diagnosed('substring-out', { share: 0.3 });
    expect(await stateAfter(passed('S', { diagnosis: hint }))).toBe('sound');
    expect(await stateAfter(passed('S', { diagnosis: diagnosed('soiling') }))).toBe('sound');
  });

  it('keeps the order of time, not that of the text', async () => {
    const lines = [
      passed('S', { at: '13:42' }),
      failed('S', -0.07, { at: '11:42' }),
      'replace S/11 at 2026-05-14 13:10',
    ];
    const found = await caseAfter(lines);
    expect(found.state).toBe('verified');
    expect(found.events.map(({ kind }) => kind)).toEqual(['sweep', 'replaced', 'sweep']);
    expect(found.openedBy!.time).toMatch(/T11:42/);
    expect(found.closedBy!.time).toMatch(/T13:42/);
  });

  it('is one for each string to which something happened, in the order of the campaign', async () => {
    const more = 'string B\n  modules 2 x M\n\nstring A\n  modules 2 x M\n\nnote A "Not reached."';
    const { campaign, sweeps } = await told([failed('S')], { more });
    expect(casesOf(campaign, sweeps).map(({ string, state }) => [string, state])).toEqual([
      ['S', 'open'],
      ['A', 'not known'],
    ]);
  });
});

describe('a counter-check that fails again', () => {
  const again: Line[] = [
    failed('S'),
    passed('S/1-9'),
    failed('S/10-18', -0.2),
    passed('S/10'),
    failed('S/11', -0.8),
    replaced('S/11', '"A" -> "B"'),
    failed('S', -0.09),
  ];

  it('reopens the search with what is still valid', async () => {
    const found = await caseAfter(again);
    expect(found.state).toBe('open');
    expect(positionsWith(found, 'cleared')).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
    expect(positionsWith(found, 'suspect')).toEqual([11, 12, 13, 14, 15, 16, 17, 18]);
    expect(found.modules[10]).toMatchObject({ serial: 'B' });
    expect(found.modules[10]!.because).toMatch(/It was replaced at 2026-05-14 08:05/);
    expect(found.openedBy!.time).toMatch(/T08:00/);
  });

  it('ends when the second module is found and replaced too', async () => {
    const found = await caseAfter([
      ...again,
      passed('S/11-14'),
      failed('S/16'),
      replaced('S/16'),
      passed('S'),
    ]);
    expect([found.state, found.proposal]).toEqual(['verified', undefined]);
  });

  it('after the string had passed, begins a search of its own', async () => {
    const found = await caseAfter([...again.slice(0, 6), passed('S'), failed('S', -0.2)]);
    expect(found.state).toBe('open');
    expect(positionsWith(found, 'suspect')).toHaveLength(18);
    expect(found.openedBy!.time).toMatch(/T08:07/);
  });
});

it('an acceptance stands at its time in the history, without one last, and counts either way', async () => {
  const story = (when: string) => [failed('S'), `accept S${when} "shaded by the chimney"`, failed('S')];
  const dated = await caseAfter(story(' at {time}'));
  expect(dated.events.map(({ kind }) => kind)).toEqual(['sweep', 'accepted', 'sweep']);
  expect(dated.events[1]!.time).toBe('2026-05-14T08:01:00');
  expect(dated.state).toBe('waived');
  const bare = await caseAfter(story(''));
  expect(bare.events.map(({ kind }) => kind)).toEqual(['sweep', 'sweep', 'accepted']);
  expect(bare.state).toBe('waived');
});
