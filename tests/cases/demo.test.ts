/** The demo read as it grew: what was proposed is what was done next. Everything in it is invented. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import type { StringCase } from '../../src/cases/stringCase.js';
import { NodeFiles } from '../../src/cli/nodeFiles.js';
import { Workbook } from '../../src/evaluation/workbook.js';

const folder = fileURLToPath(new URL('../../examples/harrow-fen', import.meta.url));
const file = path.join(folder, 'campaign.sweepbook');
const text = readFileSync(file, 'utf8');
const workbook = new Workbook(new NodeFiles(folder));

/** The case of 1.03 with the text up to where this stands. */
async function caseBefore(piece: string): Promise<StringCase> {
  const end = text.indexOf(piece);
  if (end < 0) throw new Error(`no "${piece}"`);
  workbook.setText(file, text.slice(0, end));
  const { cases } = await workbook.evaluate(file);
  return cases.find(({ string }) => string === '1.03')!;
}

it('fails, is searched, located, replaced and verified', async () => {
  const first = await caseBefore('sweep 1.03/1-9');
  expect(first).toMatchObject({ state: 'open', proposal: { kind: 'halves', addresses: ['1.03/1-9'] } });

  const half = await caseBefore('sweep 1.03/10-18');
  expect(half.modules.filter(({ status }) => status === 'cleared')).toHaveLength(9);
  expect(half.proposal!.text).toMatch(/pulls 1\.03 down/);

  const section = await caseBefore('sweeps from');
  expect(section).toMatchObject({ state: 'open', proposal: { kind: 'halves' } });
  expect(section.proposal!.text).toMatch(/pulls 1\.03\/10-18 down/);

  const found = await caseBefore('replace 1.03/11');
  expect(found).toMatchObject({
    state: 'located',
    proposal: { kind: 'replace', addresses: ['1.03/11'], disconnects: true },
  });
  expect(found.modules[10]!.because).toMatch(/1\.03\/11 at 2026-05-14 12:44 failed/);

  const replaced = await caseBefore('sweep 1.03/11 at 2026-05-14 13:31');
  expect(replaced).toMatchObject({
    state: 'replaced',
    proposal: { kind: 'counter-check', addresses: ['1.03'] },
  });
  expect(replaced.modules[10]).toMatchObject({ status: 'replaced', serial: 'KF-31904' });

  const swept = await caseBefore('sweep 1.03 at 2026-05-14 13:42');
  expect(swept.state).toBe('replaced');
  expect(swept.modules[10]!.status).toBe('cleared');

  const closed = await caseBefore('# Inverter 2');
  expect([closed.state, closed.proposal]).toEqual(['verified', undefined]);
  expect(closed.openedBy!.time).toMatch(/T11:42/);
  expect(closed.closedBy!.time).toMatch(/T13:42/);
  expect(closed.events).toHaveLength(9);
});

it('computes only the case of the string that an edit touched', async () => {
  workbook.setText(file, text);
  const before = (await workbook.evaluate(file)).cases;
  workbook.setText(file, text.replace('"Far below its neighbours."', '"Far below all neighbours."'));
  const after = (await workbook.evaluate(file)).cases;
  const changed = after.filter((each, index) => each !== before[index]).map(({ string }) => string);
  expect(changed).toEqual(['1.03']);
});
