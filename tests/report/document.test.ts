import { describe, expect, it } from 'vitest';
import { cautions } from '../../src/presentation/cautions.js';
import { plainText, type Block, type ReportDocument } from '../../src/report/document.js';
import { languages } from '../../src/report/reportOptions.js';
import { forReview } from '../../src/report/words/forReview.js';
import { wordsOf } from '../../src/report/words/index.js';
import { toMarkdown } from '../../src/report/writers/toMarkdown.js';
import { toText } from '../../src/report/writers/toText.js';
import { expectGolden } from '../presentation/goldenFile.js';
import { documentOf, emptyCampaign, everythingFailed, example, generated, longNames } from './campaigns.js';

const headings = ({ blocks }: ReportDocument): string[] =>
  blocks.flatMap((block) => (block.kind === 'heading' && block.level < 3 ? [plainText(block.text)] : []));

const words = (blocks: readonly Block[]): string => JSON.stringify(blocks);

describe('the full report', () => {
  it('has what a client signs, in order', async () => {
    const report = documentOf(await example('harrow-fen'));
    const titles = headings(report);
    const order = [
      'Harrow Fen packing house, commissioning',
      'Summary',
      'What to do next',
      'Instruments',
      'Strings',
      'All sweeps',
      'Like strings compared',
      'String 1.03  18 x KF108M',
      'Method',
      'What this report does not say',
      'Signatures',
    ];
    expect(order.map((title) => titles.indexOf(title)).every((at) => at >= 0)).toBe(true);
    expect(order.map((title) => titles.indexOf(title))).toEqual(
      order.map((title) => titles.indexOf(title)).sort((a, b) => a - b),
    );
    const text = toText(report);
    expect(text).toContain('KF-22817 -> KF-31904');
    expect(text).toMatch(/T1, I-V curve tracer +T-0417 +2026-01-12, interval 12 months/);
    expect(text).toContain('1 failed, and passed again\nafter repair');
  });

  it('puts the cautions beside what is to be disconnected, and to the end where nothing is', async () => {
    const at = (report: ReportDocument): [caution: number, strings: number] => [
      report.blocks.findIndex(({ kind }) => kind === 'caution'),
      report.blocks.findIndex((block) => block.kind === 'heading' && plainText(block.text) === 'Strings'),
    ];
    const [early, strings] = at(documentOf(await everythingFailed()));
    expect(early).toBeLessThan(strings);
    const [late, tables] = at(documentOf(await generated(2)));
    expect(late).toBeGreaterThan(tables);
  });

  it('tells the electrical tests and what is dangerous', async () => {
    const text = toText(documentOf(await example('electrical-tests')));
    expect(text).toContain('Other electrical tests');
    expect(text).toMatch(/3\.02 +insulation .*0\.31 MΩ at 1000 V.*fail/);
    expect(text).toContain(
      'No I-V curves were measured. 13 other electrical tests: 8 pass, 4 fail, 1 not judged.',
    );
    expect(text).toMatch(/What to do next\n-+\n\n- 3\.02, continuity, 1\.8 Ω: ■ fail\./);
  });

  it('names photographs that notes name', async () => {
    expect(toText(documentOf(await longNames()))).toContain('Files that notes name');
  });

  it('says degradation since the earlier campaign', async () => {
    const text = toText(documentOf(await example('harrow-fen-2027')));
    expect(text).toContain('Change since the earlier campaign');
  });
});

describe('other contents', () => {
  it('of one string: that one alone', async () => {
    const titles = headings(documentOf(await example('harrow-fen'), { string: '1.03' }));
    expect(titles.filter((title) => title.startsWith('String '))).toEqual(['String 1.03  18 x KF108M']);
  });

  it('for the crew: what, where, what to do, and the cautions before it', async () => {
    const { blocks } = documentOf(await everythingFailed(3), { content: 'faults' });
    const caution = blocks.findIndex(({ kind }) => kind === 'caution');
    const list = blocks.findIndex((block) => block.kind === 'table' && block.tall);
    expect(caution).toBeGreaterThan(0);
    expect(list).toBeGreaterThan(caution);
    const table = blocks[list]!;
    expect(table.kind === 'table' && table.rows.map(([where]) => plainText(where!))).toEqual([
      'String S00001; p',
      'String S00002; p',
      'String S00003; p',
    ]);
    expect(toText(documentOf(await example('electrical-tests'), { content: 'faults' }))).toContain('3.02');
    expect(toText(documentOf(await generated(2), { content: 'faults' }))).toContain('No fault is open.');
  });
});

describe('the words', () => {
  it.each(languages)('%s: every caution, and no English left among the fixed words', (language) => {
    const table = wordsOf(language);
    expect(table.cautions).toHaveLength(cautions.length);
    if (language === 'en') return;
    const alike = Object.entries(table.headings).filter(
      ([key, value]) => value === wordsOf('en').headings[key as keyof typeof table.headings],
    );
    // French shares these with English.
    expect(alike.map(([key]) => key)).toEqual(
      language === 'fr' ? ['instruments', 'signatures', 'conditions'] : [],
    );
    expect(Object.keys(forReview[language]).length).toBeGreaterThan(0);
  });

  it('leaves notation in backticks as it is to be written', async () => {
    const report = documentOf(await emptyCampaign());
    expect(words(report.blocks)).not.toContain('`sweep 1.03°');
  });
});

describe('Markdown and text', () => {
  it('say everything of the string of the demo in German', async () => {
    const report = documentOf(await example('harrow-fen'), { string: '1.03', language: 'de' });
    expectGolden('report.de.txt', toText(report));
  });

  it('say the verdicts, escape what the user wrote, and hold tables that GitHub reads', async () => {
    const markdown = toMarkdown(documentOf(await longNames()));
    expect(markdown).toContain('\\<b\\>Söhne\\<\\/b\\>');
    expect(markdown).not.toMatch(/<b>|<script/);
    expect(markdown).toMatch(/\| string \| time \| G \| T \|/);
    expect(markdown).toContain('● **pass**');
    for (const line of markdown.split('\n').filter((each) => each.startsWith('| ')))
      expect(line.endsWith(' |')).toBe(true);
  });

  it('have no control characters of a terminal', async () => {
    const text = toText(documentOf(await longNames()));
    expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u202e]/);
  });
});
