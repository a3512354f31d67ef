/** Photographs that notes name: shown at the string they are of, and what is wrong with one is said. */
import { describe, expect, it } from 'vitest';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import { namedFiles } from '../../src/report/namedFiles.js';
import { renderReport } from '../../src/report/renderReport.js';
import type { ReportFormat } from '../../src/report/reportOptions.js';
import { MemoryFiles } from '../evaluation/memoryFiles.js';
import { options } from './campaigns.js';
import { readPdf } from './pdfPages.js';
import { jpeg, png, uprightJpeg } from './smallPictures.js';

/** Invented. */
const text = `campaign fen "Fen"

module M
  cells 54
  Pmax 408.4 W
  Isc 13.90 A
  Voc 37.20 V
  Imp 13.09 A
  Vmp 31.20 V

string 1.03
  modules 18 x M

note 1.03/11 at 2026-05-14 12:44 "hot by 8 K: photos/ir-11.jpg and photos/upright.jpeg"
note 1.03/12 "photos/front.PNG; cut photos/cut.png, text photos/text.jpg, none photos/none.jpg, ../outside.jpg"
note "The site: photos/site.jpg, and the plan plan.pdf."
`;

async function campaign(more: Readonly<Record<string, Uint8Array>> = {}) {
  const files = new MemoryFiles({
    'fen.sweepbook': text,
    'photos/ir-11.jpg': jpeg,
    'photos/upright.jpeg': uprightJpeg,
    'photos/front.PNG': png,
    'photos/cut.png': png.slice(0, 60),
    'photos/text.jpg': new TextEncoder().encode('no picture'),
    'photos/site.jpg': jpeg,
    'plan.pdf': new TextEncoder().encode('%PDF-1.7'),
    ...more,
  });
  return { files, evaluation: await new Workbook(files).evaluate('/w/fen.sweepbook') };
}

const created = new Date('2026-05-15T08:00:00Z');

const rendered = async (
  { files, evaluation }: { files: MemoryFiles; evaluation: Evaluation },
  format: ReportFormat,
): Promise<string | Uint8Array> =>
  renderReport(evaluation, { ...options, string: undefined }, { format, created, files });

const base64 = (bytes: Uint8Array): string => Buffer.from(bytes).toString('base64');

describe('photographs that notes name', () => {
  it('stand in the page, at the string they are of, with who named them and when', async () => {
    const page = (await rendered(await campaign(), 'html')) as string;
    expect(page).toContain(`src="data:image/jpeg;base64,${base64(jpeg)}"`);
    expect(page).toContain(`src="data:image/png;base64,${base64(png)}"`);
    expect(page).toMatch(/<figcaption>\s*1\.03\/11, 2026-05-14 12:44, hot by 8 K/);
    expect(page.indexOf('photos/site.jpg"')).toBeGreaterThan(page.indexOf('photos/front.PNG"'));
    expect(page).not.toMatch(/src="(?!data:)/);
  });

  it('are listed with what became of each', async () => {
    const lines = ((await rendered(await campaign(), 'text')) as string).split('\n');
    const stateOf = (name: string) =>
      lines
        .find((line) => line.startsWith(name))
        ?.trim()
        .split(/ {2,}/)
        .at(-1);
    expect(stateOf('photos/ir-11.jpg')).toBe('shown');
    expect(stateOf('photos/text.jpg')).toBe('not a JPEG or PNG file');
    expect(stateOf('photos/none.jpg')).toBe('not found');
    expect(stateOf('../outside.jpg')).toBe('not readable');
    expect(stateOf('plan.pdf')).toBe('-');
  });

  it('are left out where one is too large for a report that has to be sent', async () => {
    const large = new Uint8Array(13 * 1024 * 1024);
    large.set(jpeg);
    const { files, evaluation } = await campaign({ 'photos/site.jpg': large });
    const lines = (await rendered({ files, evaluation }, 'text')) as string;
    expect(lines).toMatch(/photos\/site\.jpg .*too large/);
  });

  it('are left out where a small file holds more pixels than can be unpacked', async () => {
    const vast = png.slice();
    new DataView(vast.buffer).setUint32(16, 16_000);
    new DataView(vast.buffer).setUint32(20, 16_000);
    const text = (await rendered(await campaign({ 'photos/front.PNG': vast }), 'text')) as string;
    expect(text).toMatch(/photos\/front\.PNG .*too large/);
  });

  it('stand in the PDF, one that breaks off by its name alone', async () => {
    const bytes = (await rendered(await campaign(), 'pdf')) as Uint8Array;
    const images = Buffer.from(bytes)
      .toString('latin1')
      .match(/\/Subtype \/Image/g);
    // Three photographs and one again at the end; the transparency of the PNG is an image of its own.
    expect(images?.length).toBe(5);
    const { pages } = await readPdf(bytes);
    const words = pages
      .map((page) => page.text)
      .join(' ')
      .replace(/\s+/g, ' ');
    expect(words).toContain('Photographs');
    expect(words).toContain('photos/cut.png: 1.03/12');
  });

  it('change nothing where nobody names one', async () => {
    const files = new MemoryFiles({ 'fen.sweepbook': text.replaceAll(/^note.*$/gm, '') });
    const evaluation = await new Workbook(files).evaluate('/w/fen.sweepbook');
    expect(await rendered({ files, evaluation }, 'text')).not.toContain('Photographs');
    expect(files.reads.filter((file) => !file.endsWith('.sweepbook'))).toEqual([]);
  });
});

describe('names of files in a text', () => {
  const named = async (note: string): Promise<string[]> => {
    const files = new MemoryFiles({ 'fen.sweepbook': `campaign fen\n\nnote "${note}"\n` });
    const { campaign: decoded } = await new Workbook(files).evaluate('/w/fen.sweepbook');
    return namedFiles(decoded).map(({ name }) => name);
  };

  it('have letters of any language', async () => {
    expect(await named('siehe fotos/Übersicht.jpg, Gehäuse.png; план.pdf')).toEqual([
      'fotos/Übersicht.jpg',
      'Gehäuse.png',
      'план.pdf',
    ]);
  });

  it('are looked for in one pass, however long a word is', async () => {
    const start = performance.now();
    expect(await named('a'.repeat(200_000))).toEqual([]);
    // From each of its letters anew it would be twenty seconds.
    expect(performance.now() - start).toBeLessThan(5000);
  });
});
