import { describe, expect, it } from 'vitest';
import { casesOf } from '../../src/cases/casesOf.js';
import { drawCharts } from '../../src/cli/drawCharts.js';
import { escapeHtml, html } from '../../src/presentation/htmlText.js';
import { campaignPage, pageCharts, pageModel } from '../../src/presentation/pageHtml.js';
import { display, empty, evaluation } from './fixture.js';
import { expectGolden } from './goldenFile.js';

const model = pageModel(evaluation, display, '0.0.0');
/** The golden file holds the words; the pictures have their own. */
const placeholders = new Map(
  pageCharts(model).map(({ key }) => [key, `<svg><title>${escapeHtml(key)}</title></svg>`]),
);
const page = campaignPage(model, placeholders);

describe('the page', () => {
  it('says everything of the campaign', () => {
    expectGolden('page.html', page);
  });

  it('has a section and two charts for every sweep with a curve, and the overview', () => {
    expect(page.match(/<section class="sweep"/g)).toHaveLength(evaluation.sweeps.length);
    expect(pageCharts(model)).toHaveLength(1 + 2 * evaluation.sweeps.length);
    expect(page.match(/<svg>/g)).toHaveLength(1 + 2 * evaluation.sweeps.length);
  });

  it('escapes what the user wrote', () => {
    expect(page).toContain('Harrow Fen, &lt;b&gt;commissioning&lt;/b&gt;');
    expect(page).toContain('Fenside Growers &amp; Sons');
    expect(page).not.toContain('<b>commissioning');
  });

  it('runs no script and asks for nothing from outside', async () => {
    const drawn = campaignPage(model, await drawCharts(pageCharts(model)));
    expect(drawn).not.toMatch(/<script|\son\w+=|<link|<img|<iframe|@import|javascript:/i);
    const addresses = drawn.match(/https?:\/\/[^"'\s)]*/g) ?? [];
    // Names of XML vocabularies, which nothing fetches.
    expect(new Set(addresses.map((address) => new URL(address).host))).toEqual(new Set(['www.w3.org']));
    expect(drawn).toMatch(/Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'"/);
    const ids = [...drawn.matchAll(/\sid="([^"]*)"/g)].map((match) => match[1]);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('shows the cautions where something is to be disconnected', () => {
    const entries = evaluation.campaign.entries.filter(({ record }) => record.kind !== 'replace');
    const campaign = { ...evaluation.campaign, entries };
    const only = (first: number, end: number) => {
      const sweeps = evaluation.sweeps.slice(first, end);
      return { ...evaluation, sweeps, campaign, cases: casesOf(campaign, sweeps), problems: [] };
    };
    const onlyFailure = only(0, 2);
    const text = campaignPage(pageModel(onlyFailure, display, '0.0.0'), new Map());
    expect(text).toContain('Replace 1.03/11 (Pmax -34.0 %), then repeat the sweep of 1.03 as counter-check.');
    expect(text).toContain('class="caution"');
    expect(text).toContain('1500 V DC');
    const onlyPass = only(2, 3);
    expect(campaignPage(pageModel(onlyPass, display, '0.0.0'), new Map())).not.toContain('class="caution"');
  });

  it('does without charts, and without a campaign', () => {
    expect(campaignPage(model, new Map())).not.toContain('<figure');
    expect(campaignPage(pageModel(empty, display, '0.0.0'), new Map())).toContain('There are no sweeps.');
  });
});

it('escapes in templates by default', () => {
  const hostile = `"><script>alert('x')</script>&`;
  expect(html`<p title="${hostile}">${[hostile, html`<b>${1}</b>`]}</p>`.html).toBe(
    '<p title="&quot;&gt;&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;&amp;">' +
      '&quot;&gt;&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;&amp;<b>1</b></p>',
  );
});
