import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Rest } from '../../src/workspace/rest.js';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

/** A task that ends when it is told to. */
function heldTask() {
  const runs: { signal: AbortSignal; end: () => void; fail: (error: Error) => void }[] = [];
  const task = (signal: AbortSignal): Promise<void> =>
    new Promise((resolve, reject) => runs.push({ signal, end: resolve, fail: reject }));
  return { runs, task };
}

describe('waiting for rest', () => {
  it('runs the first time at once and later once per rest', async () => {
    const { runs, task } = heldTask();
    const rest = new Rest(() => 100, task);
    rest.soon();
    await vi.advanceTimersByTimeAsync(0);
    expect(runs).toHaveLength(1);
    runs[0]!.end();
    for (let key = 0; key < 5; key++) {
      rest.soon();
      await vi.advanceTimersByTimeAsync(60);
    }
    expect(runs).toHaveLength(1);
    await vi.advanceTimersByTimeAsync(40);
    expect(runs).toHaveLength(2);
  });

  it('gives up a run that a newer change overtakes', async () => {
    const { runs, task } = heldTask();
    const rest = new Rest(() => 100, task);
    rest.soon();
    await vi.advanceTimersByTimeAsync(0);
    rest.soon();
    expect(runs[0]!.signal.aborted).toBe(true);
    runs[0]!.fail(new Error('cancelled'));
    await vi.advanceTimersByTimeAsync(100);
    expect(runs[1]!.signal.aborted).toBe(false);
  });

  it('ends all when it is given up, and begins anew with the next change', async () => {
    const { runs, task } = heldTask();
    const rest = new Rest(() => 100, task);
    rest.soon();
    await vi.advanceTimersByTimeAsync(0);
    const settled = rest.settled();
    rest.giveUp();
    await settled;
    expect(runs[0]!.signal.aborted).toBe(true);
    rest.soon();
    rest.giveUp();
    await vi.advanceTimersByTimeAsync(200);
    expect(runs).toHaveLength(1);
    rest.soon();
    await vi.advanceTimersByTimeAsync(100);
    expect(runs[1]!.signal.aborted).toBe(false);
  });

  it('tells those who wait only when the newest run has ended', async () => {
    const { runs, task } = heldTask();
    const rest = new Rest(() => 100, task);
    let isSettled = false;
    rest.soon();
    void rest.settled().then(() => (isSettled = true));
    await vi.advanceTimersByTimeAsync(0);
    rest.soon();
    runs[0]!.end();
    await vi.advanceTimersByTimeAsync(100);
    expect(isSettled).toBe(false);
    runs[1]!.end();
    await vi.advanceTimersByTimeAsync(0);
    expect(isSettled).toBe(true);
    await rest.settled();
  });

  it('keeps nobody waiting after it was disposed of', async () => {
    const { task } = heldTask();
    const rest = new Rest(() => 100, task);
    rest.soon();
    const settled = rest.settled();
    rest.dispose();
    await settled;
  });
});
