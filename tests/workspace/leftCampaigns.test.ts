import { describe, expect, it } from 'vitest';
import { LeftCampaigns } from '../../src/workspace/leftCampaigns.js';

const campaign = (name: string, ...shared: string[]) => ({
  root: name,
  files: [name, ...shared],
  dataFiles: [`${name}.csv`],
});

describe('campaigns that were left', () => {
  it('are let go once three others were left after them', () => {
    const left = new LeftCampaigns();
    for (const name of ['a', 'b', 'c', 'd']) left.read(campaign(name));
    expect(['a', 'b', 'c'].flatMap((name) => left.leave(name))).toEqual([]);
    expect(left.leave('d')).toEqual([{ root: 'a', files: ['a', 'a.csv'] }]);
  });

  it('are kept when somebody comes back to them', () => {
    const left = new LeftCampaigns();
    for (const name of ['a', 'b', 'c', 'd']) left.read(campaign(name));
    for (const name of ['a', 'b', 'c']) left.leave(name);
    left.read(campaign('a'));
    expect(left.leave('d')).toEqual([]);
    expect(left.leave('a')).toEqual([{ root: 'b', files: ['b', 'b.csv'] }]);
  });

  it('leave a file that another campaign has named', () => {
    const left = new LeftCampaigns();
    for (const name of ['a', 'b', 'c', 'd']) left.read(campaign(name, 'library'));
    for (const name of ['a', 'b', 'c']) left.leave(name);
    expect(left.leave('d')[0]!.files).not.toContain('library');
  });

  it('let go what they named earlier, too', () => {
    const left = new LeftCampaigns();
    left.read({ root: 'a', files: ['a'], dataFiles: ['former.csv'] });
    for (const name of ['a', 'b', 'c', 'd']) left.read(campaign(name));
    expect(['a', 'b', 'c', 'd'].flatMap((name) => left.leave(name))).toEqual([
      { root: 'a', files: ['a', 'former.csv', 'a.csv'] },
    ]);
  });
});
