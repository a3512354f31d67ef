import { afterEach, describe, expect, it, vi } from 'vitest';
import type { Steps } from '../../src/text/steps.js';
import { aTurn, breatheInTurns, inTurns } from '../../src/workspace/breathe.js';

afterEach(() => {
  vi.unstubAllGlobals();
  vi.useRealTimers();
});

describe('a turn of the host', () => {
  it('is one for each of those who wait, with other work in between', async () => {
    const order: string[] = [];
    const first = aTurn().then(() => order.push('first'));
    const second = aTurn().then(() => order.push('second'));
    setImmediate(() => order.push('other'));
    await Promise.all([first, second]);
    expect(order).toEqual(['first', 'other', 'second']);
  });

  it('comes where there is no setImmediate, as in a browser', async () => {
    vi.stubGlobal('setImmediate', undefined);
    const order: string[] = [];
    const waiting = [aTurn().then(() => order.push('first')), aTurn().then(() => order.push('second'))];
    setTimeout(() => order.push('other'), 0);
    await Promise.all(waiting);
    expect(order).toEqual(['first', 'other', 'second']);
  });

  it('is waited for only after a while of computing', async () => {
    vi.useFakeTimers({ toFake: ['Date'] });
    const breathe = breatheInTurns(12);
    expect(breathe()).toBeUndefined();
    vi.setSystemTime(Date.now() + 13);
    const pause = breathe();
    expect(pause).toBeInstanceOf(Promise);
    await pause;
    expect(breathe()).toBeUndefined();
  });

  it('comes before work that is asked for begins, and its failure is told', async () => {
    let begun = false;
    function* steps(): Steps<string> {
      begun = true;
      yield;
      return 'done';
    }
    const asked = inTurns(steps);
    expect(begun).toBe(false);
    expect(await asked).toBe('done');
    await expect(
      inTurns(() => {
        throw new Error('no');
      }),
    ).rejects.toThrow('no');
  });
});
