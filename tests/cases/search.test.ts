/** Where a weak module is looked for next. Strings, modules and verdicts are invented. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { caseAfter, diagnosed, failed, passed, positionsWith, replaced, type Line } from './story.js';

const proposalAfter = async (lines: readonly Line[]) => (await caseAfter(lines)).proposal!;

describe('evidence', () => {
  it('a section that passes clears its modules, unless its shape shows a fault', async () => {
    expect(positionsWith(await caseAfter([failed('S'), passed('S/3-6')]), 'cleared')).toEqual([3, 4, 5, 6]);
    const shape = diagnosed('substring-out', { substringsOut: 1 });
    const found = await caseAfter([failed('S'), passed('S/3-6', { diagnosis: shape })]);
    expect(positionsWith(found, 'cleared')).toEqual([]);
    expect(found.proposal!.text).toMatch(/pulls S\/3-6 down/);
  });

  it('a section whose complement passed is narrowed to', async () => {
    const found = await caseAfter([failed('S'), passed('S/1-9')]);
    expect(positionsWith(found, 'suspect')).toEqual([10, 11, 12, 13, 14, 15, 16, 17, 18]);
    expect(found.proposal!.addresses).toEqual(['S/15-18']);
  });

  it('one position left alone is located, and swept to confirm it', async () => {
    const found = await caseAfter([failed('S'), passed('S/1-9'), passed('S/11-18')]);
    expect(found.state).toBe('located');
    expect(found.modules[9]!.because).toMatch(/elimination/);
    expect(found.proposal).toMatchObject({ kind: 'one by one', addresses: ['S/10'] });
    const confirmed = await caseAfter([failed('S'), passed('S/1-9'), passed('S/11-18'), failed('S/10')]);
    expect(confirmed.proposal).toMatchObject({ kind: 'replace', addresses: ['S/10'] });
  });

  it('sweeps before a replacement say nothing of the new module', async () => {
    const found = await caseAfter([failed('S'), passed('S/4'), replaced('S/4')]);
    expect(found.modules[3]).toMatchObject({ status: 'replaced' });
    expect(found.modules[3]!.because).toMatch(/not swept since/);
  });

  it('a sweep that was not judged is named and not believed', async () => {
    const found = await caseAfter([failed('S'), { address: 'S/4', verdict: 'not judged', deviation: -0.8 }]);
    expect(found.modules[3]).toMatchObject({ status: 'suspect' });
    expect(found.modules[3]!.because).toMatch(/S\/4 at 2026-05-14 08:01 was not judged/);
  });

  it('a module that fails by less than the uncertainty is swept again before it is replaced', async () => {
    const weak = failed('S/4', -0.06, { verdict: 'conditional fail' });
    expect(await proposalAfter([failed('S'), weak])).toMatchObject({ kind: 'repeat', addresses: ['S/4'] });
    expect(await proposalAfter([failed('S'), weak, weak])).toMatchObject({ kind: 'replace' });
  });
});

describe('contradictions are named and settled by repeating', () => {
  it('two sweeps of one module that disagree; a third decides', async () => {
    const found = await caseAfter([failed('S'), passed('S/4'), failed('S/4')]);
    expect(found.state).toBe('open');
    expect(found.modules[3]).toMatchObject({ status: 'contradictory' });
    expect(found.proposal).toMatchObject({ kind: 'settle', addresses: ['S/4'] });
    const decided = await caseAfter([failed('S'), passed('S/4'), failed('S/4'), failed('S/4')]);
    expect(decided.proposal).toMatchObject({ kind: 'replace', addresses: ['S/4'] });
    const cleared = await caseAfter([failed('S'), passed('S/4'), failed('S/4'), passed('S/4')]);
    expect(positionsWith(cleared, 'cleared')).toEqual([4]);
  });

  it('modules that pass in a section that fails; twice, and what lies between them is looked at', async () => {
    const lines = [failed('S'), failed('S/1-2'), passed('S/1'), passed('S/2')];
    expect(await proposalAfter(lines)).toMatchObject({ kind: 'settle', addresses: ['S/1-2'] });
    const twice = await proposalAfter([...lines, failed('S/1-2')]);
    expect(twice.kind).toBe('settle');
    expect(twice.text).toMatch(/connectors/);
    const other = await caseAfter([...lines, passed('S/1-2'), passed('S/1-2')]);
    expect(positionsWith(other, 'suspect')).toHaveLength(16);
  });

  it('a section that passes with a module so weak that it could not', async () => {
    const found = await caseAfter([failed('S'), passed('S/1-9'), failed('S/4', -0.9)]);
    expect(found.modules[3]).toMatchObject({ status: 'contradictory' });
    expect(found.modules[3]!.because).toMatch(/would have pulled it down further/);
    // A fifth of one module in nine is 2 %: within the limit of the section.
    const mild = await caseAfter([failed('S'), passed('S/1-9'), failed('S/4', -0.2)]);
    expect(mild.modules[3]).toMatchObject({ status: 'faulty' });
  });
});

describe('what leads to other proposals', () => {
  const with_ = (code: Parameters<typeof diagnosed>[0], more = {}) =>
    failed('S', -0.08, { diagnosis: diagnosed(code, more) });

  it('conditions and entries are doubted before anything is opened; conditions once', async () => {
    const cold = with_('temperature-wrong');
    expect(await proposalAfter([cold])).toMatchObject({ kind: 'doubt', addresses: ['S'] });
    expect(await proposalAfter([cold, cold])).toMatchObject({ kind: 'halves' });
    const fewer = with_('module-count-wrong');
    const entered = await proposalAfter([fewer, fewer]);
    expect(entered.kind).toBe('doubt');
    expect(entered.text).toMatch(/Where that is right, go on with S\/1-9\.$/);
    expect(await proposalAfter([fewer, passed('S/1-9')])).toMatchObject({ kind: 'halves' });
  });

  it('a module is not replaced while its own conditions are doubted', async () => {
    const cold = failed('S/4', -0.1, { diagnosis: diagnosed('temperature-wrong') });
    expect(await proposalAfter([failed('S'), cold])).toMatchObject({ kind: 'doubt', addresses: ['S/4'] });
    expect(await proposalAfter([failed('S'), cold, cold])).toMatchObject({ kind: 'replace' });
  });

  it('dirt is washed off; a loss of all modules alike replaces none', async () => {
    expect((await proposalAfter([with_('soiling')])).text).toMatch(/^See whether the modules of S are dirty/);
    const sample = await proposalAfter([with_('degraded')]);
    expect(sample).toMatchObject({ kind: 'one by one', addresses: ['S/1', 'S/10', 'S/18'] });
    const alike = sample.addresses.map((address) => failed(address, -0.08));
    expect(await proposalAfter([with_('degraded'), ...alike])).toMatchObject({
      kind: 'settle',
      disconnects: false,
    });
  });

  it('several weak modules weigh against halves, and the numbers say so', async () => {
    const one = await proposalAfter([with_('substring-out', { substringsOut: 2 })]);
    expect(one.why).toMatch(
      /18 positions are left\. Halves opens [\d.]+ connectors on average, one by one 19\. At most 7 sweeps/,
    );
    const many = await proposalAfter([with_('substring-out', { substringsOut: 40 })]);
    expect(many).toMatchObject({ kind: 'one by one' });
    expect(many.why).toMatch(/About 14 weak modules/);
  });

  it('bad contacts are looked for with a camera before a connector is opened', async () => {
    expect((await proposalAfter([with_('series-resistance')])).text).toMatch(/infrared camera/);
  });
});

/** Of each address, what a string with these weak modules answers. */
const answer = (address: string, weak: readonly number[], count: number): Line => {
  const [first, last = first] = (address.split('/')[1] ?? `1-${count}`).split('-').map(Number);
  const inside = weak.filter((position) => position >= first! && position <= last!).length;
  const share = inside / (last! - first! + 1);
  return inside === 0 ? passed(address) : failed(address, -0.9 * share);
};

const claimedBy = (why: string): number => Number(/At most (\d+) sweep/.exec(why)?.[1] ?? NaN);

describe('following the proposals', () => {
  it('finds one weak module within the sweeps that were claimed, whatever was measured before', async () => {
    const stories = fc.integer({ min: 2, max: 30 }).chain((count) =>
      fc.record({
        count: fc.constant(count),
        weak: fc.integer({ min: 1, max: count }),
        before: fc.array(fc.tuple(fc.integer({ min: 1, max: count }), fc.integer({ min: 1, max: count })), {
          maxLength: 4,
        }),
      }),
    );
    await fc.assert(
      fc.asyncProperty(stories, async ({ count, weak, before }) => {
        const address = (a: number, b: number): string =>
          a === b ? `S/${a}` : `S/${Math.min(a, b)}-${Math.max(a, b)}`;
        const lines: Line[] = ['S', ...before.map(([a, b]) => address(a, b))].map((each) =>
          answer(each, [weak], count),
        );
        let found = await caseAfter(lines, { count });
        let claimed = Infinity;
        const asked = new Set<string>();
        while (found.proposal!.kind !== 'replace') {
          const { kind, addresses, why } = found.proposal!;
          expect(['halves', 'one by one']).toContain(kind);
          const next = addresses[0]!;
          expect(asked.has(next), `${next} again`).toBe(false);
          asked.add(next);
          if (claimed === Infinity) claimed = claimedBy(why) || 1;
          lines.push(answer(next, [weak], count));
          found = await caseAfter(lines, { count });
        }
        expect(asked.size).toBeLessThanOrEqual(claimed === Infinity ? 0 : claimed);
        expect(found.state).toBe('located');
        expect(found.proposal!.addresses).toEqual([`S/${weak}`]);
      }),
      { numRuns: 60 },
    );
  });

  it('finds all of several weak modules, one replacement and counter-check after the other', async () => {
    const stories = fc.integer({ min: 4, max: 20 }).chain((count) =>
      fc.record({
        count: fc.constant(count),
        weak: fc.uniqueArray(fc.integer({ min: 1, max: count }), { minLength: 2, maxLength: 3 }),
      }),
    );
    await fc.assert(
      fc.asyncProperty(stories, async ({ count, weak }) => {
        let left: readonly number[] = weak;
        const lines: Line[] = [answer('S', left, count)];
        let found = await caseAfter(lines, { count });
        for (let step = 0; found.proposal; step++) {
          expect(step).toBeLessThan(60);
          const { kind, addresses } = found.proposal;
          if (kind === 'replace') {
            left = left.filter((position) => !addresses.includes(`S/${position}`));
            lines.push(...addresses.map((address) => replaced(address)));
          } else lines.push(answer(addresses[0]!, left, count));
          found = await caseAfter(lines, { count });
        }
        expect(found.state).toBe('verified');
        expect(left).toEqual([]);
      }),
      { numRuns: 30 },
    );
  });
});
