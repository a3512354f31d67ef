import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  readPanelState,
  readToEditor,
  readToPanel,
  type ToPanel,
} from '../../src/messages/previewMessages.js';
import { nextSteps } from '../../src/presentation/nextSteps.js';
import { campaignModel, previewModel } from '../../src/presentation/previewModel.js';
import { evaluation } from '../presentation/fixture.js';

/** As it arrives on the other side. */
const sent = (message: unknown): unknown => JSON.parse(JSON.stringify(message));

describe('messages between panel and editor', () => {
  const toPanel: ToPanel[] = [
    { type: 'campaign', campaign: campaignModel(evaluation), steps: nextSteps(evaluation) },
    ...evaluation.sweeps.map(({ id }): ToPanel => ({ type: 'sweep', sweep: previewModel(evaluation, id) })),
    { type: 'sweep', sweep: undefined },
    { type: 'held', held: true },
    { type: 'nothing', text: 'Nothing yet.' },
  ];

  it('arrive whole', () => {
    for (const message of toPanel) expect(readToPanel(sent(message))).toEqual(sent(message));
    const place = { file: 'file:///fen/a.sweepbook', line: 3 };
    for (const message of [
      { type: 'ready' },
      { type: 'choose', sweepId: 'a:1' },
      { type: 'reveal', place, focus: false },
      { type: 'hold', held: false },
    ]) {
      expect(readToEditor(sent(message))).toEqual(message);
    }
  });

  it('are refused when a part is missing or of another kind', () => {
    for (const message of [
      { type: 'choose' },
      { type: 'reveal', place: { file: 'a', line: -1 }, focus: true },
      { type: 'reveal', place: { file: 'a', line: 1.5 }, focus: true },
      { type: 'hold', held: 'yes' },
      { type: 'run', command: 'x' },
    ]) {
      expect(readToEditor(message)).toBeUndefined();
    }
    expect(readToPanel({ type: 'sweep', sweep: { sweepId: 'a' } })).toBeUndefined();
  });

  it('never throw, whatever arrives', () => {
    fc.assert(
      fc.property(fc.anything(), (anything) => {
        expect(() => [readToPanel(anything), readToEditor(anything)]).not.toThrow();
        expect(readPanelState(anything)).toBeTypeOf('object');
      }),
    );
  });
});
