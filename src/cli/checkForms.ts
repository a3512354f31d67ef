/**
 * What `check` prints of one campaign, and how the campaigns are put together. The part of a campaign is plain data: it is made
 * wherever the campaign is computed, perhaps in a thread of its own, or kept from an earlier run.
 */
import type { JunitSuite, ShownProblem } from '../ci/index.js';
import { toResult } from '../presentation/resultSchema.js';
import { problemLines, sweepTable } from '../presentation/textTable.js';
import type { EvaluatedFile } from './eachCampaign.js';
import { programVersion } from './programVersion.js';
import { colourPainter } from './paint.js';

export const checkFormats = ['text', 'json', 'markdown', 'junit', 'sarif', 'github', 'gitlab'] as const;
export type CheckFormat = (typeof checkFormats)[number];

/** Everything that the part of a campaign depends on beside the campaign. */
export interface CheckForm {
  readonly format: CheckFormat;
  readonly colour: boolean;
  readonly ascii: boolean;
  /** With the format json: the single-diode model of each curve too. */
  readonly fit: boolean;
}

export type CheckPart = string | readonly ShownProblem[] | JunitSuite;

export async function partOf(campaign: EvaluatedFile, form: CheckForm): Promise<CheckPart> {
  const { evaluation, display } = campaign;
  if (form.format === 'text') {
    const options = { display, paint: form.colour ? colourPainter : undefined, ascii: form.ascii };
    const problems = problemLines(evaluation, options);
    return sweepTable(evaluation, options) + (problems ? `\n${problems}` : '');
  }
  if (form.format === 'json')
    return JSON.stringify(toResult(evaluation, display, programVersion, { withFit: form.fit }), null, 2);
  // Loaded when asked for: who reads text need not wait for it.
  const forms = await import('../ci/index.js');
  if (form.format === 'markdown') return forms.markdownSummary(campaign);
  if (form.format === 'junit') return forms.junitSuite(campaign);
  const problems = forms.shownProblems(campaign);
  return form.format === 'github' ? forms.githubAnnotations(problems) : problems;
}

/** Puts the parts together in the order in which they are added. What is printed is whole whenever `end` follows. */
export interface PartWriter {
  /** @returns what can be printed already */
  add(part: CheckPart): string;
  /** @returns the rest */
  end(): Promise<string>;
  /** What ends it where not all campaigns were checked; nothing where a part of the form would pass for all of it. */
  cut(): string;
}

/** @param single one campaign was asked for: its JSON is no list */
export function partWriter(format: CheckFormat, single: boolean): PartWriter {
  switch (format) {
    case 'text':
    case 'markdown':
      return separated('', '\n', '');
    case 'github':
      return separated('', '', '');
    case 'json':
      return single ? separated('', '', '\n') : jsonList();
    case 'junit':
    case 'sarif':
    case 'gitlab':
      return document(format);
  }
}

function separated(begin: string, between: string, end: string): PartWriter {
  let isFirst = true;
  return {
    add(part) {
      const before = isFirst ? begin : between;
      isFirst = false;
      return before + (part as string);
    },
    end: () => Promise.resolve(isFirst ? '' : end),
    cut: () => (isFirst ? '' : end),
  };
}

/** As `JSON.stringify` writes a list that is indented by two. */
function jsonList(): PartWriter {
  const list = separated('[\n  ', ',\n  ', '\n]\n');
  return {
    add: (part) => list.add((part as string).replaceAll('\n', '\n  ')),
    end: () => Promise.resolve(list.cut() || '[]\n'),
    cut: () => list.cut() || '[]\n',
  };
}

/** Forms that say at their head what is in them. */
function document(format: 'junit' | 'sarif' | 'gitlab'): PartWriter {
  const parts: CheckPart[] = [];
  return {
    add(part) {
      parts.push(part);
      return '';
    },
    async end() {
      const forms = await import('../ci/index.js');
      if (format === 'junit') return forms.junit(parts as JunitSuite[]);
      const problems = (parts as ShownProblem[][]).flat();
      return format === 'sarif' ? forms.sarif(problems, programVersion) : forms.gitlabCodeQuality(problems);
    },
    cut: () => '',
  };
}
