/**
 * The diagnosis of one sweep. Every cause is a physical model with few unknowns, fitted to the measured points; a sound string
 * is the model whose unknowns stay within what conditions, instruments and nameplate leave open. The points decide between
 * them by the evidence (see physics/priorFit.ts), what the other strings of the day read enters as what is usual.
 */
import { finish, type Steps } from '../text/steps.js';
import { causeOf } from './causes.js';
import { commonCause, commonLevels, type CommonLevel } from './common.js';
import type { Cause, CauseCode, Diagnosis } from './diagnosis.js';
import { expectationOf, type DiagnosisInput, type Expectation } from './expectation.js';
import { findingsOf } from './findings.js';
import type { Tried } from './hypothesis.js';
import { weigh, type Weighed } from './weigh.js';

/** Below this share of the evidence a cause is not named; a string is sound unless others have this much together. Own choice. */
const leastShare = 0.03;
const alarm = 0.65;

const sound: Diagnosis = { healthy: true, findings: [], causes: [], substringsOut: 0 };

/** Pure. Undefined where the sweep carries none: no points, no conditions, no nameplate, no Isc or Voc. */
export const diagnose = (input: DiagnosisInput): Diagnosis | undefined => finish(diagnosing(input));

/** The same, with a step for each cause that is tried. */
export function* diagnosing(input: DiagnosisInput): Steps<Diagnosis | undefined> {
  const expectation = expectationOf(input);
  if (!expectation) return undefined;
  const weighed = yield* weigh(expectation);
  const soundShare = weighed.find(({ code }) => code === 'healthy')?.share ?? 0;
  const common = commonLevels(expectation);
  const commonShare = shareOfAny(common);
  const own = 1 - soundShare >= alarm;
  if (!own && commonShare < alarm) return sound;
  const ranked = inShares(
    withCommon(
      own ? ownCauses(weighed, expectation) : [],
      commonShare >= alarm ? commonCauses(common, !own, expectation) : [],
    ),
  );
  const leading = own ? weighed.find(({ code }) => code !== 'healthy')! : weighed[0]!;
  return {
    healthy: false,
    findings: findingsOf(expectation, leading.best),
    causes: ranked,
    substringsOut: ranked[0]?.code === 'substring-out' ? substringsOf(leading.best) : 0,
  };
}

/** Of current and of voltage, whichever is likelier to be off in all strings. */
const shareOfAny = (common: readonly CommonLevel[]): number =>
  Math.max(
    ...(['current', 'voltage'] as const).map((level) =>
      common.reduce((sum, each) => sum + (each.level === level ? each.share : 0), 0),
    ),
  );

/** @param alike nothing sets this string apart from the others */
const commonCauses = (common: readonly CommonLevel[], alike: boolean, e: Expectation): Cause[] =>
  common.filter(({ share }) => share >= leastShare).map((level) => commonCause(level, alike, e));

const substringsOf = ({ hypothesis }: Tried): number => Number(hypothesis.tag?.out ?? 0);

function ownCauses(weighed: readonly Weighed[], e: Expectation): Cause[] {
  return weighed.flatMap(({ code, share, best }) => {
    if (code === 'healthy' || share < leastShare) return [];
    const { also = [] } = best.hypothesis;
    return [
      causeOf(code, best, share, e),
      ...also.map((each) => besides(code, causeOf(each, best, share, e))),
    ];
  });
}

function besides(leading: CauseCode, cause: Cause): Cause {
  return {
    ...cause,
    besides: leading,
    text: `At the same time: ${cause.text.charAt(0).toLowerCase()}${cause.text.slice(1)}`,
  };
}

/** What is off in all strings is said behind what is off in this one where it is of the same kind, else for itself. */
function withCommon(own: readonly Cause[], common: readonly Cause[]): Cause[] {
  const both = own.map((cause) => {
    const same = common.find(({ code }) => code === cause.code);
    return same ? saidTogether(cause, same) : cause;
  });
  return [...both, ...common.filter(({ code }) => own.every((cause) => cause.code !== code))];
}

const saidTogether = (own: Cause, common: Cause): Cause => ({
  ...own,
  text: `${own.text} ${common.text}`,
  figures: [...own.figures, ...common.figures],
  share: own.besides === undefined ? Math.max(own.share, common.share) : own.share,
});

/** One entry a code, likeliest first; what is off in this string and what is off in all share the whole between them. */
function inShares(causes: readonly Cause[]): Cause[] {
  const byCode = new Map<CauseCode, Cause>();
  for (const cause of causes) {
    const known = byCode.get(cause.code);
    if (!known || known.share < cause.share) byCode.set(cause.code, cause);
  }
  const list = [...byCode.values()].sort((a, b) => b.share - a.share);
  const exclusive = list.filter((cause) => cause.besides === undefined);
  const total = Math.max(
    1,
    exclusive.reduce((sum, { share }) => sum + share, 0),
  );
  return list.map((cause) => ({ ...cause, share: cause.share / total }));
}
