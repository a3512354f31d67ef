import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareCampaigns } from '../../src/difference/compareCampaigns.js';
import {
  readPanelState,
  readToEditor,
  readToPanel,
  type ToPanel,
} from '../../src/messages/previewMessages.js';
import { differenceModel } from '../../src/presentation/differenceModel.js';
import { campaignHead, campaignModel, previewModel } from '../../src/presentation/previewModel.js';
import { stringModel } from '../../src/presentation/stringModel.js';
import { evaluation } from '../presentation/fixture.js';

const head = campaignHead(evaluation);

const unchanged = differenceModel(
  await compareCampaigns({ evaluation }, { evaluation }),
  'HEAD',
  { before: String, after: String },
  () => undefined,
);

/** As it arrives on the other side. */
const sent = (message: unknown): unknown => JSON.parse(JSON.stringify(message));

describe('messages between panel and editor', () => {
  const toPanel: ToPanel[] = [
    { type: 'show', head, view: 'campaign', campaign: campaignModel(evaluation) },
    ...evaluation.sweeps.map(({ id }): ToPanel => ({
      type: 'show',
      head,
      view: 'sweep',
      sweep: previewModel(evaluation, id),
    })),
    { type: 'show', head, view: 'sweep', sweep: undefined },
    { type: 'show', head, view: 'string', string: stringModel(evaluation, '1.03') },
    { type: 'show', head, view: 'string', string: undefined },
    { type: 'difference', difference: unchanged },
    { type: 'comparing', file: 'file:///fen/a.sweepbook', revision: 'v1', commit: '3f2a91c' },
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
      { type: 'revealChange', before: place, after: place },
      { type: 'revealChange', before: place },
      { type: 'askRevision' },
      { type: 'hold', held: false },
      { type: 'view', view: 'campaign' },
      { type: 'view', view: 'string', string: '1.03' },
      { type: 'copy', text: 'a\tb' },
      { type: 'save', name: 'a.png', base64: 'AAAA' },
    ]) {
      expect(readToEditor(sent(message))).toEqual(message);
    }
  });

  it('are refused when a part is missing or of another kind', () => {
    for (const message of [
      { type: 'choose' },
      { type: 'reveal', place: { file: 'a', line: -1 }, focus: true },
      { type: 'reveal', place: { file: 'a', line: 1.5 }, focus: true },
      { type: 'revealChange', after: { file: 'a', line: 'b' } },
      { type: 'hold', held: 'yes' },
      { type: 'view', view: 'elsewhere' },
      { type: 'run', command: 'x' },
    ]) {
      expect(readToEditor(message)).toBeUndefined();
    }
    expect(readToPanel({ type: 'show', head, view: 'sweep', sweep: { sweepId: 'a' } })).toBeUndefined();
    expect(readToPanel({ type: 'show', view: 'sweep' })).toBeUndefined();
    expect(readToPanel({ type: 'difference', difference: { title: 'a' } })).toBeUndefined();
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
