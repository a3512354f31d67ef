/** Takes one string out of a run, so that it has a block of its own that can be renamed or described otherwise. */
import { rangeOnLine, type Range } from '../text/place.js';
import type { FileEdit } from './fileEdit.js';
import { namesIn, type FileDocument, type NamedTarget } from './nameOccurrences.js';
import { placesOf } from './references.js';

/** Undefined where no run gives the name. The block is written up to three times, each part with all its lines. */
export function splitRun(files: readonly FileDocument[], target: NamedTarget): FileEdit | undefined {
  const place = placesOf(files, target).find(
    ({ isGiven, run }) => isGiven && run !== undefined && run.length > 1,
  );
  const document = files.find(({ file }) => file === place?.file)?.document;
  const placed = document?.blockAt(place!.range.start.line);
  const name = placed && namesIn(placed).find(({ isGiven }) => isGiven);
  if (!place?.run || !placed || !name) return undefined;
  const { block, startLine } = placed;
  const { start, end } = name.range;
  const [header, ...body] = block.lines.slice(0, block.endLine + 1).map(({ text }) => text);
  const at = place.run.indexOf(target.text);
  const parts = [place.run.slice(0, at), [target.text], place.run.slice(at + 1)].filter(
    (part) => part.length > 0,
  );
  const blocks = parts.map((part) => {
    const named = part.length > 1 ? `${part[0]!} .. ${part.at(-1)!}` : part[0]!;
    return [header!.slice(0, start.character) + named + header!.slice(end.character), ...body].join('\n');
  });
  const last = block.lines[block.endLine]!.text.length;
  const range: Range = {
    start: rangeOnLine(startLine, 0, 0).start,
    end: rangeOnLine(startLine + block.endLine, last, last).end,
  };
  return { file: place.file, range, text: blocks.join('\n\n') };
}
