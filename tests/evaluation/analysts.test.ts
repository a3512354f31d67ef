/** What analysts in other threads compute is what an evaluation computes by itself, to the last digit. */
import fc from 'fast-check';
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import type { AnalysedSweep, AnalystReply, AnalystRequest } from '../../src/evaluation/analystMessages.js';
import { Analysts } from '../../src/evaluation/analysts.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { EvaluationCancelled, Workbook } from '../../src/evaluation/workbook.js';
import { generateCampaign, memoryReader } from '../bench/generate.js';
import { anyCampaign } from './anyCampaign.js';
import { clonedThreads, type ClonedThreads } from './clonedThreads.js';
import { inMemory, MemoryFiles } from './memoryFiles.js';

/** All of it but what it was computed from: every number, text, place and order. */
function asJson({ sources: _, ...evaluation }: Evaluation): string {
  return JSON.stringify(evaluation, (_key, value: unknown) => {
    if (value instanceof Map) return [...value];
    if (ArrayBuffer.isView(value)) return Array.from(value as Float64Array, String);
    return typeof value === 'number' ? String(value) : value;
  });
}

const analysesIn = (replies: readonly AnalystReply[]): Set<unknown> =>
  new Set(
    replies
      .flatMap((reply) => (reply ?? []) as readonly Partial<AnalysedSweep>[])
      .flatMap(({ analysis, interpolated, repeated }) => [
        analysis,
        interpolated?.analysis,
        repeated?.analysis,
      ]),
  );

/** One sweep is enough for them. */
const analystsOf = (threads: ClonedThreads): Analysts => new Analysts(threads, 1);

const root = 'campaign.sweepbook';

async function both(files: Readonly<Record<string, string | Uint8Array>>, name = root) {
  const threads = clonedThreads(2);
  const direct = await new Workbook(new MemoryFiles(files)).evaluate(inMemory(name));
  const analysts = analystsOf(threads);
  const evaluation = await new Workbook(new MemoryFiles(files), { analysts }).evaluate(inMemory(name));
  return { threads, direct, evaluation };
}

const exampleFolder = path.join(import.meta.dirname, '../../examples');
const examples = readdirSync(exampleFolder, { recursive: true, encoding: 'utf8' })
  .map((name) => name.replaceAll('\\', '/'))
  .filter((name) => /\.(sweepbook|csv)$/.test(name));

describe('through analysts', () => {
  it.each(examples.filter((name) => name.endsWith('.sweepbook')))(
    '%s',
    { timeout: 120_000 },
    async (name) => {
      const folder = path.posix.dirname(name);
      // Campaigns name files of neighbouring folders.
      const files = Object.fromEntries(
        examples.map((each) => [each, readFileSync(path.join(exampleFolder, each))]),
      );
      expect(folder).not.toBe('');
      const { direct, evaluation } = await both(files, name);
      expect(asJson(evaluation)).toBe(asJson(direct));
    },
  );

  it('any campaign', { timeout: 300_000 }, async () => {
    await fc.assert(
      fc.asyncProperty(anyCampaign, async (files) => {
        const { direct, evaluation } = await both(files);
        expect(asJson(evaluation)).toBe(asJson(direct));
      }),
      { numRuns: 40 },
    );
  });

  it('a table that many sweeps name, which goes there once with each batch and is read once', async () => {
    const generated = generateCampaign(60, 40);
    const text = generated.text.replace(/data ".*"/g, 'data "S00001.csv"');
    const { threads, direct, evaluation } = await both({
      [root]: text,
      ...Object.fromEntries(generated.files),
    });
    expect(asJson(evaluation)).toBe(asJson(direct));
    const analysed = threads.requests.filter((request) => request.kind === 'analyse');
    const tables = analysed.map(
      ({ devices }) => new Set(devices.flat().map(({ points }) => 'bytes' in points && points.bytes)).size,
    );
    expect(tables).toEqual([1, 1]);
    expect(new Set(evaluation.sweeps.map(({ reading }) => reading))).toHaveProperty('size', 1);
  });

  it('nothing is computed twice: each sweep has the analysis that an analyst gave', async () => {
    const generated = generateCampaign(120, 40);
    const threads = clonedThreads(2);
    const workbook = new Workbook(memoryReader(generated), { analysts: analystsOf(threads) });
    const { sweeps } = await workbook.evaluate(root);
    const given = analysesIn(threads.replies);
    expect(sweeps).toHaveLength(120);
    for (const sweep of sweeps)
      expect(given.has(sweep.analysis) || sweep.diagnosis!.substringsOut > 0).toBe(true);
    expect(threads.started).toBe(2);
  });
});

describe('what goes wrong with analysts', () => {
  const generated = generateCampaign(130, 40);
  const expected = new Workbook(memoryReader(generated)).evaluate(root).then(asJson);
  const through = async (threads: ClonedThreads): Promise<string> =>
    asJson(await new Workbook(memoryReader(generated), { analysts: analystsOf(threads) }).evaluate(root));

  it.each([
    ['one thread is lost at its first batch', (_: AnalystRequest, thread: number) => thread !== 0],
    ['all threads are lost at their first batch', () => false],
    ['all are lost before they diagnose', ({ kind }: AnalystRequest) => kind !== 'diagnose'],
    [
      'one is lost before it diagnoses',
      ({ kind }: AnalystRequest, n: number) => kind !== 'diagnose' || n === 0,
    ],
  ])('%s', async (_, fate) => {
    const threads = clonedThreads(2, fate);
    expect(await through(threads)).toBe(await expected);
    // None is replaced: what ended one may end the next.
    expect(threads.started).toBeLessThanOrEqual(2);
  });

  it('none can be started', async () => {
    const threads = clonedThreads(2);
    const none = {
      ...threads,
      start: () => {
        throw new Error('not allowed here');
      },
    };
    expect(await through(none)).toBe(await expected);
  });

  it('a batch cannot be worked on', async () => {
    const threads = clonedThreads(2);
    const failing: ClonedThreads = {
      ...threads,
      start: ({ lost, replied }) => threads.start({ lost, replied: () => replied(undefined) }),
    };
    expect(await through(failing)).toBe(await expected);
  });
});

describe('analysts', () => {
  it('are not asked for a few sweeps, nor for an edit', async () => {
    const generated = generateCampaign(100, 40);
    const threads = clonedThreads(2);
    const workbook = new Workbook(memoryReader(generated), { analysts: new Analysts(threads) });
    workbook.setText(root, generated.text.slice(0, generated.text.indexOf('string S00050')));
    await workbook.evaluate(root);
    expect(threads.requests).toHaveLength(0);
    const other = new Workbook(memoryReader(generated), { analysts: new Analysts(threads) });
    other.setText(root, generated.text);
    await other.evaluate(root);
    const asked = threads.requests.length;
    expect(asked).toBeGreaterThan(0);
    other.setText(root, generated.text.replace(/irradiance \d+(?= W\/m2\n {2}temp)/, 'irradiance 801'));
    await other.evaluate(root);
    expect(threads.requests).toHaveLength(asked);
  });

  it('drop what a cancelled evaluation asked for, and serve the next', async () => {
    const generated = generateCampaign(300, 40);
    const threads = clonedThreads(1);
    const analysts = analystsOf(threads);
    const controller = new AbortController();
    const workbook = new Workbook(memoryReader(generated), { analysts });
    const first = workbook.evaluate(root, controller.signal);
    while (threads.replies.length === 0) await new Promise((resolve) => setTimeout(resolve, 1));
    controller.abort();
    await expect(first).rejects.toThrow(EvaluationCancelled);
    const asked = threads.requests.filter(({ kind }) => kind === 'analyse');
    expect(asked.length).toBeLessThan(6);
    const again = await workbook.evaluate(root);
    expect(again.sweeps).toHaveLength(300);
    await new Promise((resolve) => setTimeout(resolve, 20));
    const kept = threads.requests.filter(({ kind }) => kind === 'analyse').length;
    expect(threads.requests.filter(({ kind }) => kind === 'drop')).toHaveLength(kept);
  });

  it('are let go after a while without work, and come back', async () => {
    const generated = generateCampaign(60, 40);
    let rest: (() => void) | undefined;
    const threads = {
      ...clonedThreads(1),
      afterRest: (end: () => void) => {
        rest = end;
        return () => (rest = undefined);
      },
    };
    const analysts = analystsOf(threads);
    const evaluate = () => new Workbook(memoryReader(generated), { analysts }).evaluate(root);
    const before = asJson(await evaluate());
    rest!();
    expect(asJson(await evaluate())).toBe(before);
    expect(rest).toBeDefined();
  });
});
