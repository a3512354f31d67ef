/** The paths that a text names: tables, included files, earlier campaigns. */
import { findBlockKeyword, findProperty, type BlockKeyword } from '../campaign/keywords.js';
import type { Block } from '../syntax/block.js';
import type { Document } from '../syntax/document.js';
import type { Line, Token } from '../syntax/token.js';
import { rangeOnLine, shiftRange, type Range } from '../text/place.js';

export interface WrittenPath {
  /** Between the quotes. */
  readonly range: Range;
  readonly path: string;
}

/** In the order of the text, each when it is asked for. */
export function* writtenPaths(document: Document): Generator<WrittenPath, void> {
  for (const { block, startLine } of document.blocks)
    for (const { path, range } of block.derive(pathsOfBlock))
      yield { path, range: shiftRange(range, startLine) };
}

function pathsOfBlock(block: Block): readonly WrittenPath[] {
  const keyword = findBlockKeyword(block.header?.tokens[0]?.text ?? '');
  if (!keyword) return [];
  return block.lines.flatMap((line, index) => {
    const token = pathToken(keyword, line, index === 0);
    if (!token || token.text === '') return [];
    return [{ path: token.text, range: rangeOnLine(line.number, token.start + 1, token.end - 1) }];
  });
}

/** The quoted piece of a line that is a path. */
export function pathToken(keyword: BlockKeyword, line: Line, isHeader: boolean): Token | undefined {
  const { tokens } = line;
  const isPath = isHeader
    ? keyword.header === 'path' || keyword.header === 'fromFile'
    : findProperty(keyword.name, tokens[0]?.text ?? '')?.form.kind === 'path';
  const quoted = isPath ? tokens.find(({ kind }) => kind === 'quoted') : undefined;
  return quoted && !line.problem ? quoted : undefined;
}
