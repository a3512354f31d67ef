/** A diagnosis in words, the same in the panel, in hovers and on the page. */
import type { Cause, Diagnosis } from '../diagnosis/diagnosis.js';
import type { DiagnosisSection } from './previewTypes.js';

const aboutWords: Readonly<Record<Cause['about'], string>> = {
  conditions: 'measurement',
  entry: 'entry',
  device: 'device',
};

export function diagnosisSection(diagnosis: Diagnosis | undefined): DiagnosisSection | undefined {
  if (!diagnosis) return undefined;
  return {
    headline: diagnosisHeadline(diagnosis),
    healthy: diagnosis.healthy,
    findings: diagnosis.findings.map(({ kind, text }) => ({ kind, text })),
    causes: diagnosis.causes.map(({ text, about, tellApart, share }) => ({
      text,
      about: aboutWords[about],
      tellApart,
      share: shareText(share),
    })),
  };
}

/** The likeliest cause in one sentence, or that there is nothing to explain. */
export function diagnosisHeadline(diagnosis: Diagnosis): string {
  if (diagnosis.healthy) return 'The shape of the curve is as expected.';
  const [likeliest] = diagnosis.causes;
  return likeliest?.text ?? 'The curve differs from the expected one, and no cause tried explains it.';
}

/** Whole percent; what rounds to all or nothing is not said to be certain. */
export function shareText(share: number): string {
  if (share > 0.99) return '> 99 %';
  if (share < 0.01) return '< 1 %';
  return `${Math.round(share * 100)} %`;
}
