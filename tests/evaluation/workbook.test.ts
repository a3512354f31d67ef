/** What the evaluation keeps, computes anew and gives up. The data are those of the example campaign, which is invented. */
import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { emptyCampaign } from '../../src/campaign/resolveCampaign.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { findRoot } from '../../src/evaluation/findRoot.js';
import { EvaluationCancelled, Workbook } from '../../src/evaluation/workbook.js';
import { inMemory, MemoryFiles } from './memoryFiles.js';

const folder = new URL('../../examples/harrow-fen/', import.meta.url);
const example = (name: string): string => readFileSync(new URL(name, folder), 'utf8');

function harrowFen() {
  const files = new MemoryFiles();
  for (const name of ['campaign.sweepbook', 'array.sweepbook', 'modules.sweepbook'])
    files.write(name, example(name));
  for (const name of readdirSync(new URL('sweeps/', folder)))
    files.write(`sweeps/${name}`, example(`sweeps/${name}`));
  const workbook = new Workbook(files);
  const root = inMemory('campaign.sweepbook');
  return { files, workbook, root, evaluate: (signal?: AbortSignal) => workbook.evaluate(root, signal) };
}

const analyses = ({ sweeps }: Evaluation) =>
  new Map(sweeps.map((sweep) => [`${sweep.address} ${sweep.time}`, sweep.analysis]));

/** Which analyses are other objects than before. */
function renewed(before: Evaluation, after: Evaluation): string[] {
  const known = analyses(before);
  return [...analyses(after)]
    .filter(([key, analysis]) => known.get(key) !== analysis)
    .map(([key]) => key.replace(/:00[+-].*/, ''));
}

describe('what a campaign says', () => {
  it('is had without reading a table', async () => {
    const { files, workbook, root, evaluate } = harrowFen();
    const campaign = await workbook.campaignOf(root);
    expect(files.reads.filter((file) => file.endsWith('.csv'))).toEqual([]);
    const evaluated = await evaluate();
    expect([...campaign.strings.keys()]).toEqual([...evaluated.campaign.strings.keys()]);
    expect(campaign.entries).toEqual(evaluated.campaign.entries);
  });

  it('is nothing where the file is missing', async () => {
    const { workbook } = harrowFen();
    expect(await workbook.campaignOf('/w/gone.sweepbook')).toBe(emptyCampaign);
  });
});

describe('an edit', () => {
  it('that changes nothing keeps every analysis', async () => {
    const { workbook, root, evaluate } = harrowFen();
    const before = await evaluate();
    workbook.setText(root, example('campaign.sweepbook'));
    const after = await evaluate();
    expect(renewed(before, after)).toEqual([]);
    expect(after.revision).toBe(before.revision + 1);
  });

  it('of one sweep computes that sweep alone', async () => {
    const { workbook, root, evaluate } = harrowFen();
    const before = await evaluate();
    workbook.setText(
      root,
      example('campaign.sweepbook').replace('  irradiance  812 W/m2', '  irradiance  813 W/m2'),
    );
    const after = await evaluate();
    expect(renewed(before, after)).toEqual(['1.03 2026-05-14T11:42']);
    expect(after.sweeps[2]!.analysis.conditions.irradiance).toBe(813);
  });

  it('above the sweeps moves them and keeps their analyses', async () => {
    const { workbook, root, evaluate } = harrowFen();
    const before = await evaluate();
    workbook.setText(root, `# One line.\n\n# Another.\n${example('campaign.sweepbook')}`);
    const after = await evaluate();
    expect(renewed(before, after)).toEqual([]);
    expect(after.sweeps.map(({ place }) => place.range.start.line)).toEqual(
      before.sweeps.map(({ place }) => place.range.start.line + 3),
    );
  });

  it('of a module type computes its sweeps and no others', async () => {
    const { files, workbook, evaluate } = harrowFen();
    const second = example('modules.sweepbook')
      .replace('module KF108M', 'module KF108X')
      .replace(/^#.*\n/, '');
    files.write('modules.sweepbook', example('modules.sweepbook') + '\n' + second);
    files.write(
      'array.sweepbook',
      example('array.sweepbook').replace(/(string 2\.01[^]*?)KF108M/, '$1KF108X'),
    );
    const before = await evaluate();
    expect(before.problems).toEqual([]);
    workbook.setText(
      inMemory('modules.sweepbook'),
      example('modules.sweepbook') + '\n' + second.replace('Pmax   408.4 W', 'Pmax   408.3 W'),
    );
    const changed = renewed(before, await evaluate());
    expect(changed).toHaveLength(9);
    expect(changed.every((sweep) => sweep.startsWith('2.'))).toBe(true);
  });

  it('of the criteria computes every sweep', async () => {
    const { workbook, root, evaluate } = harrowFen();
    const before = await evaluate();
    workbook.setText(root, example('campaign.sweepbook').replace('Pmax       -5 %', 'Pmax       -20 %'));
    expect(renewed(before, await evaluate())).toHaveLength(before.sweeps.length);
  });

  it('that breaks one line costs nothing but what rests on it', async () => {
    const { workbook, root, evaluate } = harrowFen();
    const before = await evaluate();
    workbook.setText(
      root,
      example('campaign.sweepbook').replace('  irradiance  812 W/m2', '  irradiance  812 W/m'),
    );
    const after = await evaluate();
    expect(after.problems).toHaveLength(1);
    expect(renewed(before, after)).toEqual(['1.03 2026-05-14T11:42']);
  });
});

describe('files', () => {
  it('an open text wins over the disk, and the disk is back when it is closed', async () => {
    const { workbook, root, evaluate, files } = harrowFen();
    await evaluate();
    workbook.setText(root, 'campaign other');
    expect((await evaluate()).campaign.campaign!.record.name.text).toBe('other');
    files.write('campaign.sweepbook', 'campaign third');
    workbook.fileChanged(root);
    expect((await evaluate()).campaign.campaign!.record.name.text).toBe('other');
    workbook.setText(root, undefined);
    expect((await evaluate()).campaign.campaign!.record.name.text).toBe('third');
  });

  it('a table is read once, again only when it is said to have changed, and its sweep alone is computed', async () => {
    const { files, workbook, evaluate } = harrowFen();
    const before = await evaluate();
    const name = 'sweeps/1.03-first.csv';
    const table = inMemory(name);
    await evaluate();
    expect(files.reads.filter((file) => file === table)).toHaveLength(1);

    files.write(name, example('sweeps/1.02.csv'));
    expect(renewed(before, await evaluate())).toEqual([]);
    workbook.fileChanged(table);
    const after = await evaluate();
    expect(renewed(before, after)).toEqual(['1.03 2026-05-14T11:42']);
    expect(after.sweeps[2]!.analysis.verdict).toBe('pass');
    expect(files.reads.filter((file) => file === table)).toHaveLength(2);
  });

  it('a table written again with the same bytes changes nothing', async () => {
    const { workbook, evaluate } = harrowFen();
    const before = await evaluate();
    for (const file of before.dataFiles) workbook.fileChanged(file);
    expect(renewed(before, await evaluate())).toEqual([]);
  });

  it('a table that goes takes its verdict with it, and brings it back', async () => {
    const { files, workbook, evaluate } = harrowFen();
    await evaluate();
    const name = 'sweeps/1.02.csv';
    files.remove(name);
    workbook.fileChanged(inMemory(name));
    const without = await evaluate();
    expect(without.problems.map(({ id }) => id)).toEqual(['data/missing']);
    expect(without.sweeps[1]!.analysis.verdict).toBe('not judged');
    expect(without.dataFiles).toContain(inMemory(name));
    files.write(name, example(name));
    workbook.fileChanged(inMemory(name));
    const back = await evaluate();
    expect(back.problems).toEqual([]);
    expect(back.sweeps[1]!.analysis.verdict).toBe('pass');
  });

  it('an included file that goes is one problem, at its include line', async () => {
    const { files, workbook, evaluate } = harrowFen();
    await evaluate();
    files.remove('modules.sweepbook');
    workbook.fileChanged(inMemory('modules.sweepbook'));
    const { problems, sweeps } = await evaluate();
    expect(problems.filter(({ id }) => id.startsWith('include/'))).toHaveLength(1);
    expect(
      sweeps.every(({ analysis }) => analysis.verdict === 'not judged' || analysis.verdict === 'void'),
    ).toBe(true);
  });

  it('a root that is not there is one problem', async () => {
    const workbook = new Workbook(new MemoryFiles());
    const evaluation = await workbook.evaluate(inMemory('gone.sweepbook'));
    expect(evaluation.problems).toHaveLength(1);
    expect(evaluation.problems[0]!.message).toContain('gone.sweepbook');
    expect(evaluation.sweeps).toEqual([]);
  });
});

describe('includes', () => {
  const evaluateOf = (files: Record<string, string>) =>
    new Workbook(new MemoryFiles(files)).evaluate(inMemory('a.sweepbook'));
  const ids = ({ problems }: Evaluation) =>
    problems.map(({ id, file }) => `${id} ${file.replace('/w/', '')}`);

  it('missing, or outside of the workspace: each said where it stands', async () => {
    const evaluation = await evaluateOf({
      'a.sweepbook': 'include "b.sweepbook"\ninclude "../c.sweepbook"\ninclude "/etc/hostname"\n',
    });
    expect(ids(evaluation).map((id) => id.split(' ')[0])).toEqual([
      'include/unreadable',
      'include/outside',
      'include/outside',
    ]);
    expect(evaluation.problems.map(({ range }) => range.start.line)).toEqual([0, 1, 2]);
  });

  it('in a circle are said once and end', async () => {
    const evaluation = await evaluateOf({
      'a.sweepbook': 'include "b.sweepbook"\nsite s1\n  position 1 N, 1 E\n  timezone UTC\n',
      'b.sweepbook': 'include "a.sweepbook"\n',
    });
    expect(ids(evaluation)).toEqual(['include/cycle b.sweepbook']);
    expect([...evaluation.campaign.sites.keys()]).toEqual(['s1']);
  });

  it('of itself', async () => {
    expect(ids(await evaluateOf({ 'a.sweepbook': 'include "a.sweepbook"\n' }))).toEqual([
      'include/cycle a.sweepbook',
    ]);
  });

  it('by two ways are read once', async () => {
    const evaluation = await evaluateOf({
      'a.sweepbook': 'include "b.sweepbook"\ninclude "c.sweepbook"\n',
      'b.sweepbook': 'include "d.sweepbook"\n',
      'c.sweepbook': 'include "d.sweepbook"\n',
      'd.sweepbook': 'site s1\n  position 1 N, 1 E\n  timezone UTC\n',
    });
    expect(ids(evaluation)).toEqual([]);
    expect(evaluation.files.map((file) => file.replace('/w/', ''))).toEqual([
      'a.sweepbook',
      'b.sweepbook',
      'd.sweepbook',
      'c.sweepbook',
    ]);
  });

  it('nested without end stop at a depth, with the rest computed', async () => {
    const files: Record<string, string> = {};
    for (let k = 0; k < 40; k++)
      files[k === 0 ? 'a.sweepbook' : `f${k}.sweepbook`] = `include "f${k + 1}.sweepbook"\n`;
    expect(ids(await evaluateOf(files)).map((id) => id.split(' ')[0])).toEqual(['include/too-deep']);
  });
});

describe('the root of a file', () => {
  const tree = {
    'top.sweepbook': 'include "lib/array.sweepbook"\n',
    'lib/array.sweepbook': 'include "modules.sweepbook"\n',
    'lib/modules.sweepbook': '',
    'alone.sweepbook': '',
    'x.sweepbook': 'include "y.sweepbook"\n',
    'y.sweepbook': 'include "x.sweepbook"\n',
  };
  const find = (name: string) =>
    findRoot(inMemory(name), Object.keys(tree).map(inMemory), new Workbook(new MemoryFiles(tree)));

  it('is at the top of what includes it', async () => {
    for (const name of ['top.sweepbook', 'lib/array.sweepbook', 'lib/modules.sweepbook'])
      expect(await find(name)).toBe(inMemory('top.sweepbook'));
  });

  it('is itself where nothing includes it, and found in a circle too', async () => {
    expect(await find('alone.sweepbook')).toBe(inMemory('alone.sweepbook'));
    expect(['/w/x.sweepbook', '/w/y.sweepbook']).toContain(await find('x.sweepbook'));
  });
});

describe('cancelling', () => {
  it('before and during the evaluation rejects, and the next one is whole', async () => {
    const { files, root } = harrowFen();
    const stop = new AbortController();
    let turns = 0;
    const workbook = new Workbook(files, {
      breathe: () => {
        if (++turns === 5) stop.abort();
        return turns % 2 ? Promise.resolve() : undefined;
      },
    });
    await expect(workbook.evaluate(root, stop.signal)).rejects.toBeInstanceOf(EvaluationCancelled);
    expect(turns).toBe(5);
    await expect(workbook.evaluate(root, stop.signal)).rejects.toBeInstanceOf(EvaluationCancelled);
    expect((await workbook.evaluate(root)).sweeps.length).toBeGreaterThan(15);
  });
});

describe('evaluations at the same time', () => {
  it('each see a whole text', async () => {
    const { workbook, root, evaluate } = harrowFen();
    const first = evaluate();
    workbook.setText(root, 'campaign other');
    const [one, two] = await Promise.all([first, evaluate()]);
    expect(two.campaign.campaign!.record.name.text).toBe('other');
    expect(two.problems).toEqual([]);
    expect(one.root).toBe(root);
  });
});
