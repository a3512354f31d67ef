/**
 * What the panel and the extension tell each other: two tagged unions, each checked where it arrives. The models inside
 * come from the extension's own presentation, so their guard looks at the parts that the panel cannot do without.
 */
import * as z from 'zod/mini';
import type { DifferenceModel } from '../presentation/differenceModel.js';
import type { CampaignHead, CampaignModel, PreviewModel } from '../presentation/previewTypes.js';
import type { StringModel } from '../presentation/stringTypes.js';

const placeGuard = z.object({ file: z.string(), line: z.int().check(z.nonnegative()) });

const sweepGuard = z.custom<PreviewModel>((value) =>
  isRecord(value, {
    sweepId: 'string',
    parameters: 'array',
    reasons: 'array',
    verdict: 'object',
    charts: 'object',
  }),
);
const campaignGuard = z.custom<CampaignModel>((value) =>
  isRecord(value, {
    name: 'string',
    sweeps: 'array',
    counts: 'array',
    problems: 'array',
    overview: 'object',
    cases: 'array',
    steps: 'array',
    map: 'array',
  }),
);
const stringGuard = z.custom<StringModel>((value) =>
  isRecord(value, {
    name: 'string',
    state: 'object',
    modules: 'array',
    events: 'array',
    wholes: 'object',
    parts: 'object',
  }),
);
const headGuard = z.custom<CampaignHead>((value) =>
  isRecord(value, { name: 'string', title: 'string', summary: 'string' }),
);

const differenceGuard = z.custom<DifferenceModel>((value) =>
  isRecord(value, {
    title: 'string',
    revision: 'string',
    summary: 'array',
    sections: 'array',
    sweeps: 'array',
  }),
);

/** What the panel looks at: one sweep, one string with all that happened to it, or the whole campaign. */
const viewGuard = z.enum(['sweep', 'string', 'campaign']);
export type ViewName = z.infer<typeof viewGuard>;

const toPanelGuard = z.union([
  /** After each evaluation and each choice: the head of the campaign and the model of the view, if it has one. */
  z.object({
    type: z.literal('show'),
    head: headGuard,
    view: z.literal('sweep'),
    sweep: z.optional(sweepGuard),
  }),
  z.object({
    type: z.literal('show'),
    head: headGuard,
    view: z.literal('string'),
    string: z.optional(stringGuard),
  }),
  z.object({
    type: z.literal('show'),
    head: headGuard,
    view: z.literal('campaign'),
    campaign: campaignGuard,
  }),
  /** In a panel of its own: what differs from a revision. */
  z.object({ type: z.literal('difference'), difference: differenceGuard }),
  /** A difference is being computed, and what is shown is of an older text. All three are what the page keeps of it. */
  z.object({
    type: z.literal('comparing'),
    file: z.string(),
    revision: z.string(),
    commit: z.string(),
  }),
  /** The panel stays at its sweep whatever the cursor does. */
  z.object({ type: z.literal('held'), held: z.boolean() }),
  /** What to say instead of a campaign. */
  z.object({ type: z.literal('nothing'), text: z.string() }),
]);

const toEditorGuard = z.discriminatedUnion('type', [
  /** The panel's script runs and wants everything. */
  z.object({ type: z.literal('ready') }),
  /** Show this sweep; `reveal`: its line in the editor too, without taking the focus. */
  z.object({ type: z.literal('choose'), sweepId: z.string() }),
  /** Show this line in the editor; `focus`: and go there. */
  z.object({ type: z.literal('reveal'), place: placeGuard, focus: z.boolean() }),
  /** Show this in the text diff. */
  z.object({
    type: z.literal('revealChange'),
    before: z.optional(placeGuard),
    after: z.optional(placeGuard),
  }),
  /** Compare with another revision. */
  z.object({ type: z.literal('askRevision') }),
  z.object({ type: z.literal('hold'), held: z.boolean() }),
  /** Another view; of this string where one is named. */
  z.object({ type: z.literal('view'), view: viewGuard, string: z.optional(z.string()) }),
  /** Put this text on the clipboard. */
  z.object({ type: z.literal('copy'), text: z.string() }),
  /** Let the user choose where this picture goes; its bytes in base 64. */
  z.object({ type: z.literal('save'), name: z.string(), base64: z.string() }),
]);

export type ToPanel = z.infer<typeof toPanelGuard>;
export type ToEditor = z.infer<typeof toEditorGuard>;

const stateGuard = z.object({
  /** Any file of the campaign. */
  file: z.optional(z.string()),
  /** The sweep by what does not move with an edit. */
  address: z.optional(z.string()),
  time: z.optional(z.string()),
  held: z.optional(z.boolean()),
  /** What the campaign is compared with, in the panel that compares: as the user named it, and what that meant. */
  revision: z.optional(z.string()),
  commit: z.optional(z.string()),
  view: z.optional(viewGuard),
  /** Names of curves that are not drawn. */
  hidden: z.optional(z.array(z.string())),
  scroll: z.optional(z.number()),
});

/** What the panel keeps over hiding, closing and opening of the window: enough to find the same view again. */
export type PanelState = z.infer<typeof stateGuard>;

/** Undefined: not a message of ours, or a damaged one. */
export function readToPanel(message: unknown): ToPanel | undefined {
  return toPanelGuard.safeParse(message).data;
}

export function readToEditor(message: unknown): ToEditor | undefined {
  return toEditorGuard.safeParse(message).data;
}

/** An empty state for anything else than a state. */
export function readPanelState(state: unknown): PanelState {
  return stateGuard.safeParse(state).data ?? {};
}

type Kind = 'string' | 'array' | 'object';

function isRecord(value: unknown, shape: Readonly<Record<string, Kind>>): boolean {
  if (typeof value !== 'object' || value === null) return false;
  return Object.entries(shape).every(([key, kind]) => {
    const part = (value as Record<string, unknown>)[key];
    return kind === 'array' ? Array.isArray(part) : typeof part === kind && part !== null;
  });
}
