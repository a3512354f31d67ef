import type { Evaluation } from '../evaluation/evaluation.js';
import { rangeOnLine, type Place, type Position } from '../text/place.js';
import type { OpenFile } from './editorTypes.js';
import { lineContext, type LineContext } from './lineContext.js';
import { findNamed, placeOf, referredKinds } from './namedThings.js';

/** Where the word at the cursor was given its name; for a path the file it names. */
export function definitionAt(evaluation: Evaluation, open: OpenFile, position: Position): Place | undefined {
  const context = lineContext(open, position);
  if (context.inComment || !context.token) return undefined;
  if (isPath(context)) {
    const file = open.resolve(context.token.text);
    return file === undefined ? undefined : { file, range: rangeOnLine(0, 0, 0) };
  }
  const found = findNamed(evaluation.campaign, referredKinds(context), context.token.text);
  return found && placeOf(found);
}

function isPath({ token, isHeader, block, property }: LineContext): boolean {
  if (token?.kind !== 'quoted') return false;
  if (isHeader) return block?.header === 'path' || block?.header === 'fromFile';
  return property?.form.kind === 'path';
}
