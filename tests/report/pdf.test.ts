import { describe, expect, it } from 'vitest';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { renderReport } from '../../src/report/renderReport.js';
import type { ReportOptions } from '../../src/report/reportOptions.js';
import {
  emptyCampaign,
  everythingFailed,
  example,
  generated,
  longNames,
  longSerial,
  nothingJudged,
  options,
} from './campaigns.js';
import { MemoryFiles } from '../evaluation/memoryFiles.js';
import { readPdf, type PageText } from './pdfPages.js';

const created = new Date('2026-05-15T08:00:00Z');
const noFiles = new MemoryFiles();

async function pdfOf(evaluation: Evaluation, more: Partial<ReportOptions> = {}) {
  const bytes = await renderReport(
    evaluation,
    { ...options, ...more },
    { format: 'pdf', created, files: noFiles },
  );
  return readPdf(bytes as Uint8Array);
}

/** Half an inch from each edge; the footer stands lower. */
const margin = 36;

function beyond(pages: readonly PageText[]): string[] {
  return pages.flatMap(({ items, width, height }, index) =>
    items
      .filter(
        ({ left, right, base }) =>
          left < margin || right > width - margin || base < 28 || base > height - margin,
      )
      .map(({ text, left, right, base }) => `page ${index + 1}: "${text}" ${left} to ${right} at ${base}`),
  );
}

const together = (pages: readonly PageText[]): string => pages.map(({ text }) => text).join('\n');
/** Without the places where lines are broken. */
const unbroken = (pages: readonly PageText[]): string => together(pages).replaceAll('\n', '');

describe('a PDF of the sample', () => {
  it('has selectable text, numbered pages, an outline, tags and a language', async () => {
    const { pages, title, outline, tagged, language } = await pdfOf(await example('harrow-fen-sample'));
    expect(title).toBe('Harrow Fen packing house, commissioning');
    expect(language).toBe('en');
    expect(tagged).toBe(true);
    expect(outline).toContain('Summary');
    expect(outline.filter((line) => line.startsWith('String 1.03'))).toHaveLength(1);
    pages.forEach(({ text }, index) => expect(text).toContain(`Page ${index + 1} of ${pages.length}`));
    expect(together(pages)).toContain('KF-22817 -> KF-31904');
    expect(together(pages)).toContain('± ');
    expect(together(pages)).toContain('Ω');
    expect(beyond(pages)).toEqual([]);
  });

  it('repeats the heads of a table on every page', async () => {
    const { pages } = await pdfOf(await everythingFailed(40), { content: 'faults' });
    expect(pages.length).toBeGreaterThan(3);
    for (const page of pages.slice(0, -1)) expect(page.text).toContain('new serial number');
  });

  it.each([
    ['A4', 595.28, 841.89],
    ['Letter', 612, 792],
  ] as const)('fits on %s', async (paper, width, height) => {
    const { pages } = await pdfOf(await example('harrow-fen-sample'), { paper });
    for (const page of pages) {
      expect(page.width).toBeCloseTo(width, 1);
      expect(page.height).toBeCloseTo(height, 1);
    }
    expect(beyond(pages)).toEqual([]);
  });

  it('is the same file when it is written again at the same time', async () => {
    const evaluation = await example('harrow-fen-sample');
    const write = () => renderReport(evaluation, options, { format: 'pdf', created, files: noFiles });
    expect(
      Buffer.from((await write()) as Uint8Array).equals(Buffer.from((await write()) as Uint8Array)),
    ).toBe(true);
  });

  it('speaks German with umlauts and a decimal comma', async () => {
    const { pages, language } = await pdfOf(await example('harrow-fen-sample'), { language: 'de' });
    const text = together(pages);
    expect(language).toBe('de');
    expect(text).toContain('Prüfbericht');
    expect(text).toContain('Typenschild bei STC');
    expect(text).toMatch(/-\d,\d %/);
    expect(text).toContain('14.05.2026 11:42');
    expect(beyond(pages)).toEqual([]);
  });
});

describe('stays on the paper', () => {
  it('with long names, umlauts, serial numbers of 40 characters and letters that the font has not', async () => {
    const { pages } = await pdfOf(await longNames());
    const text = unbroken(pages);
    expect(text).toContain('Straße-überlang.');
    expect(text).toContain(longSerial);
    expect(text).toContain('äöüß');
    expect(text).toContain('\ufffd\ufffd Ärger');
    expect(beyond(pages)).toEqual([]);
  }, 60_000);

  it.each([
    ['an empty campaign', emptyCampaign, 'Nothing was measured.'],
    ['a campaign with nothing judged', nothingJudged, '6 not judged'],
    ['a campaign with everything failed', everythingFailed, '6 at fault'],
    ['electrical tests alone', () => example('electrical-tests'), 'insulation'],
  ] as const)('with %s', async (_name, evaluate, says) => {
    const { pages } = await pdfOf(await evaluate());
    expect(together(pages)).toContain(says);
    expect(beyond(pages)).toEqual([]);
  });
});

describe('the summary for the client', () => {
  it.each([
    ['the demo', () => example('harrow-fen')],
    ['three hundred strings', () => generated(300)],
    ['a hundred failed strings', () => everythingFailed(100)],
    ['nothing judged', nothingJudged],
  ] as const)(
    'has two pages for %s',
    async (_name, evaluate) => {
      const evaluation = await evaluate();
      for (const paper of ['A4', 'Letter'] as const) {
        const { pages } = await pdfOf(evaluation, { content: 'summary', paper });
        expect(pages).toHaveLength(2);
        expect(beyond(pages)).toEqual([]);
      }
    },
    60_000,
  );
});
