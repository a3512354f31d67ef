/** What stands beside the text: lenses, the tree, counts in marks, verdicts among the problems. */
import { beforeAll, describe, expect, it } from 'vitest';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { campaignTree, type TreeNode } from '../../src/presentation/campaignTree.js';
import { lensesOf } from '../../src/presentation/lenses.js';
import { verdictProblems } from '../../src/presentation/verdictProblems.js';
import { countsMarks } from '../../src/presentation/verdictWords.js';
import { example } from '../report/campaigns.js';
import { empty, evaluation } from './fixture.js';

let demo: Evaluation;
beforeAll(async () => {
  demo = await example('harrow-fen');
});

const file = (name: string): string => demo.files.find((each) => each.endsWith(name))!;

describe('lenses', () => {
  it('count above the campaign', () => {
    const [lens] = lensesOf(demo, demo.root);
    expect(lens).toMatchObject({ text: expect.stringMatching(/^23 sweeps: 17 pass, /) as unknown });
    expect(lens!.opens).toEqual({ view: 'campaign' });
  });

  it('say of a run which strings are not sound, and open the worst', () => {
    const [first] = lensesOf(demo, file('array.sweepbook'));
    expect(first!.text).toBe('6 of 6 strings measured: 1 verified (1.03), 5 sound');
    expect(first!.opens).toEqual({ view: 'string', string: '1.03' });
  });

  it('say the state of one string, in a line that fits', async () => {
    const sample = await example('harrow-fen-sample');
    const [, lens] = lensesOf(sample, sample.root);
    expect(lens!.text).toMatch(/^★ verified/);
    expect(lens!.opens).toEqual({ view: 'string', string: '1.03' });
    expect(lens!.text.length).toBeLessThanOrEqual(110);
  });

  it('are not there for a file of no campaign', () => {
    expect(lensesOf(empty, 'other.sweepbook')).toEqual([]);
  });
});

describe('the tree', () => {
  const strings = (nodes: readonly TreeNode[]): string[] =>
    nodes.flatMap((node) => (node.kind === 'string' ? [node.label] : strings(node.children)));

  it('has every string once, in its plane on its site', () => {
    const [site] = campaignTree(demo);
    expect(site).toMatchObject({ kind: 'site', label: 'harrow-fen' });
    expect(site!.children[0]).toMatchObject({ kind: 'plane', label: 'south', description: '14 strings' });
    expect(strings(campaignTree(demo))).toEqual([...demo.campaign.strings.keys()]);
  });

  it('leaves out, where that is wanted, what asks for no work', () => {
    expect(strings(campaignTree(demo, { onlyWork: true }))).toEqual([]);
    expect(strings(campaignTree(evaluation, { onlyWork: true }))).toContain('1.05');
  });
});

it('counts in marks that differ in shape', () => {
  expect(countsMarks(demo.counts)).toBe('● 17  ▲ 1  ■ 3  ○ 1  ⊘ 1');
  expect(countsMarks(empty.counts)).toBe('No sweeps');
});

it('lists failed sweeps of open cases alone, when asked to', () => {
  expect(verdictProblems(demo, 'warning')).toEqual([]);
  const problems = verdictProblems(evaluation, 'information');
  expect(
    problems.every(
      ({ id, severity }) => /^verdict\/(conditional-)?fail$/.test(id) && severity === 'information',
    ),
  ).toBe(true);
  expect(problems.some(({ message }) => message.startsWith('1.03 '))).toBe(false);
});
