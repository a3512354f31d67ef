import { describe, expect, it } from 'vitest';
import { unmeasuredText } from '../../src/presentation/unmeasured.js';
import { campaignText, evaluate } from '../bringIn/campaign.js';

/** What the campaign of twelve strings in a run and one more says, with something measured on each of these addresses. */
async function textAfter(...addresses: string[]): Promise<string | undefined> {
  const sweeps = addresses.map((address) => `\nsweep ${address} at 2026-05-14 11:42\n  data "a.csv"\n`);
  return unmeasuredText(await evaluate(campaignText + sweeps.join('')));
}

describe('strings that were not measured', () => {
  it('are named, three and more in a row as a run', async () => {
    expect(await textAfter('1.01', '1.02', '1.04', '1.06', '1.07')).toBe(
      '8 strings were not measured: 1.03, 1.05, 1.08 .. 1.12, INV2-S07.',
    );
    expect(await textAfter('1.01', '1.04', 'INV2-S07')).toBe(
      '10 strings were not measured: 1.02, 1.03, 1.05 .. 1.12.',
    );
  });

  it('are told by the first of them where they are scattered', async () => {
    const many = `${campaignText}\nstring X01 .. X40\n  modules 18 x ${/^module (\S+)/m.exec(campaignText)![1]}\n`;
    const odd = Array.from({ length: 20 }, (_, at) => `X${String(2 * at + 1).padStart(2, '0')}`);
    const sweeps = odd.map((address) => `\nsweep ${address} at 2026-05-14 11:42\n  data "a.csv"\n`);
    const text = unmeasuredText(await evaluate(many + sweeps.join('')));
    expect(text).toBe(
      '33 strings were not measured, among them 1.01 .. 1.12, INV2-S07, X02, X04, X06, X08, X10, X12.',
    );
  });

  it('are not those of which a part was swept, or that were tested otherwise', async () => {
    const all = Array.from({ length: 12 }, (_, at) => `1.${String(at + 1).padStart(2, '0')}`);
    expect(await textAfter(...all)).toBe('String INV2-S07 was not measured.');
    expect(await textAfter(...all, 'INV2-S07/1-9')).toBeUndefined();
    const tested = `\npolarity INV2-S07 at 2026-05-14 10:02\n  result correct\n`;
    const sweeps = all.map((address) => `\nsweep ${address} at 2026-05-14 11:42\n  data "a.csv"\n`).join('');
    expect(unmeasuredText(await evaluate(campaignText + sweeps + tested))).toBeUndefined();
  });

  it('are not told before anything was measured', async () => {
    expect(await textAfter()).toBeUndefined();
  });
});
