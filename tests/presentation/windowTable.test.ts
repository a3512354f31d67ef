import { beforeAll, describe, expect, it } from 'vitest';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { hoverAt } from '../../src/presentation/hoverText.js';
import { windowsOfDay, windowTable } from '../../src/presentation/windowTable.js';
import { at, evaluateMemory, openFile, root } from './memoryCampaign.js';

let evaluation: Evaluation;
beforeAll(async () => {
  evaluation = await evaluateMemory();
});
const seen = (markdown: string | undefined) => markdown?.replace(/\\(.)/g, '$1');

describe('the hover on a site', () => {
  it('says the window of the day of the first sweep, at the keyword and at the name', () => {
    for (const piece of ['site', 'fen']) {
      const before = piece === 'fen' ? 'site ' : '';
      const text = seen(hoverAt(evaluation, openFile(root), at(before, piece))?.markdown);
      expect(text).toMatch(/window of plane south on 2026-05-14 \d\d:\d\d to \d\d:\d\d \(\+01:00\)/);
      expect(text).toContain('acceptance: irradiance 700 W/m2 ..');
      expect(text).toContain('under a clear sky');
    }
  });
});

describe('the table of windows', () => {
  it('shows start, solar noon and end in this order, with units', () => {
    const text = windowTable(windowsOfDay(evaluation.campaign, '2026-05-14'));
    expect(text).toMatch(/start {7}\d\d:\d\d\+01:00[^]*solar noon {2}12:5\d[^]*end /);
    for (const line of text.split('\n').filter((each) => /^ {2}(start|solar|end)/.test(each)))
      expect(line).toMatch(/\d deg +\d+\.\d deg +\d+\.\d deg +\d+ W\/m2$/);
  });

  it('says why there is no window, and keeps solar noon', () => {
    const text = windowTable(windowsOfDay(evaluation.campaign, '2026-12-21'));
    expect(text).toMatch(/plane south: none\. The expected irradiance reaches \d+ W\/m2/);
    expect(text).not.toMatch(/^ {2}start/m);
    expect(text).toContain('solar noon');
  });
});
