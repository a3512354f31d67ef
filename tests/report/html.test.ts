import { HtmlValidate } from 'html-validate';
import { describe, expect, it } from 'vitest';
import { languages } from '../../src/report/reportOptions.js';
import { display, empty, evaluation as small } from '../presentation/fixture.js';
import { expectGolden } from '../presentation/goldenFile.js';
import {
  drawnHtml,
  emptyCampaign,
  everythingFailed,
  example,
  htmlOf,
  longNames,
  nothingJudged,
} from './campaigns.js';

const validator = new HtmlValidate({
  extends: ['html-validate:standard'],
  rules: {
    // A matter of taste, and of space.
    'no-inline-style': 'off',
    'long-title': 'off',
    // Vega writes its own attributes into the charts.
    'no-unknown-elements': 'error',
    'svg-focusable': 'off',
  },
});

async function complaints(page: string): Promise<string[]> {
  const { results } = await validator.validateString(page);
  return results.flatMap(({ messages }) =>
    messages.map(({ ruleId, message, line, column }) => `${line}:${column} ${ruleId}: ${message}`),
  );
}

describe('the page', () => {
  it('says everything of the demo', async () => {
    expectGolden('report.html', htmlOf(await example('harrow-fen-sample')));
  });

  it('escapes what the user wrote', () => {
    const page = htmlOf(small, { display });
    expect(page).toContain('Harrow Fen, &lt;b&gt;commissioning&lt;/b&gt;');
    expect(page).toContain('Fenside Growers &amp; Sons');
    expect(page).not.toContain('<b>commissioning');
  });

  it('runs no script and asks for nothing from outside', async () => {
    const page = await drawnHtml(await example('harrow-fen-sample'));
    expect(page).not.toMatch(/<script|\son\w+=|<link|<img|<iframe|@import|javascript:|url\(http/i);
    const addresses = page.match(/https?:\/\/[^"'\s)]*/g) ?? [];
    // Names of XML vocabularies, which nothing fetches.
    expect(new Set(addresses.map((address) => new URL(address).host))).toEqual(new Set(['www.w3.org']));
    expect(page).toMatch(/http-equiv="Content-Security-Policy"/);
    expect(page).toContain(`content="default-src 'none'; style-src 'unsafe-inline'; img-src data:"`);
    const ids = [...page.matchAll(/\sid="([^"]*)"/g)].map((match) => match[1]);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('leads from the table of strings to each of them', async () => {
    const page = htmlOf(await example('harrow-fen'));
    const links = [...page.matchAll(/href="#([^"]*)"/g)].map((match) => match[1]);
    expect(links).toHaveLength(14);
    for (const link of links) expect(page).toContain(`<h2 id="${link!}">`);
  });

  it('does without charts, and without a campaign', async () => {
    expect(htmlOf(empty)).toContain('Nothing was measured.');
    expect(htmlOf(await emptyCampaign())).toContain('Nothing was measured.');
  });

  it('gives the paper its size', () => {
    expect(htmlOf(empty, { paper: 'Letter' })).toContain('@page { size: letter;');
    expect(htmlOf(empty)).toContain('@page { size: A4;');
  });
});

describe('is valid HTML', () => {
  it('as a validator that objects to a wrong page says', async () => {
    const page = htmlOf(await emptyCampaign());
    expect(await complaints(page.replace('</section>', '</div>'))).not.toEqual([]);
    expect(await complaints(page.replace('<h1>', '<h1 id="a b" onload>'))).not.toEqual([]);
  });

  it.each([
    ['the sample, with its charts', async () => drawnHtml(await example('harrow-fen-sample'))],
    ['the electrical tests', async () => htmlOf(await example('electrical-tests'))],
    ['an empty campaign', async () => htmlOf(await emptyCampaign())],
    ['a campaign with nothing judged', async () => htmlOf(await nothingJudged())],
    ['a campaign with everything failed', async () => htmlOf(await everythingFailed())],
    ['the fault list of it', async () => htmlOf(await everythingFailed(), { content: 'faults' })],
    ['long and hostile names', async () => htmlOf(await longNames())],
  ])('%s', async (_name, page) => {
    expect(await complaints(await page())).toEqual([]);
  });

  it.each(languages)('in %s', async (language) => {
    const page = htmlOf(await example('harrow-fen-sample'), { language });
    expect(page).toContain(`<html lang="${language}">`);
    expect(await complaints(page)).toEqual([]);
  });
});
