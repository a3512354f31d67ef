import { expect, it } from 'vitest';
import { KeptCampaigns } from '../../src/workspace/keptCampaigns.js';
import { inMemory, MemoryFiles } from '../evaluation/memoryFiles.js';

/** Kept campaigns over files in memory, and a look at each result right after it was published. */
function keptOver(texts: Readonly<Record<string, string>>, published: (kept: KeptCampaigns) => void) {
  const files = Object.assign(new MemoryFiles(texts), {
    paths: () => Promise.resolve([]),
    readTable: () => Promise.resolve(undefined),
  });
  const kept: KeptCampaigns = new KeptCampaigns({
    files,
    delay: () => 0,
    evaluated: () => published(kept),
    dropped: () => undefined,
  });
  return kept;
}

it('an edit that comes with the result of the one before is computed too', async () => {
  const file = inMemory('c.sweepbook');
  let edits = 0;
  const kept = keptOver({}, (kept) => {
    // As a client does that answers what it was told.
    if (edits++ < 3) setTimeout(() => kept.edited(file, `campaign c\nnote "${edits}"\n`), 0);
  });
  kept.edited(file, 'campaign c\n');
  await expect.poll(() => edits).toBe(4);
  const evaluation = await kept.evaluationOf(file);
  expect(evaluation?.sources?.root.document.blocks).toHaveLength(2);
  kept.dispose();
});

it('tells what there is to tell before those who wait for it are answered', async () => {
  const file = inMemory('c.sweepbook');
  let published = 0;
  const kept = keptOver({}, () => published++);
  kept.edited(file, 'campaign c\n');
  await kept.evaluationOf(file);
  expect(published).toBe(1);
  kept.dispose();
});
