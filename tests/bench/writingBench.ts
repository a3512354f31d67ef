/**
 * What each writing feature costs in a large file once the text is parsed and its lines are read: for a text just opened, and
 * again, when what belongs to a block is remembered with it. An edit costs the latter and one block.
 */
import { Workbook } from '../../src/evaluation/workbook.js';
import { completionsAt } from '../../src/presentation/completions.js';
import { writtenPaths } from '../../src/presentation/documentLinks.js';
import { foldingRegions } from '../../src/presentation/folding.js';
import { formatEdits, formatTyped } from '../../src/presentation/formatting.js';
import { nameAt } from '../../src/presentation/nameOccurrences.js';
import { quickFixes, type FixHost } from '../../src/presentation/quickFixes.js';
import { highlightsAt, placesOf } from '../../src/presentation/references.js';
import { renameEdits } from '../../src/presentation/rename.js';
import { selectionRanges } from '../../src/presentation/selectionRanges.js';
import { encodeSemanticTokens } from '../../src/presentation/semanticTokens.js';
import { signatureAt } from '../../src/presentation/signatureHelp.js';
import { unusedNames } from '../../src/presentation/unusedNames.js';
import { workspaceSymbols } from '../../src/presentation/workspaceSymbols.js';
import { parseDocument } from '../../src/syntax/document.js';
import { generateCampaign, memoryReader } from './generate.js';

export async function benchWriting(strings = 2000): Promise<void> {
  const generated = generateCampaign(strings, 20);
  // A typing mistake in the last sweep, for the fix.
  const text = generated.text.replace(/with T, R\n$/, 'with T, Q\n');
  const workbook = new Workbook(memoryReader({ ...generated, text }));
  workbook.setText('campaign.sweepbook', text);
  const evaluation = await workbook.evaluate('campaign.sweepbook');
  const lines = text.split('\n');
  const open = {
    file: 'campaign.sweepbook',
    lineAt: (line: number) => lines[line] ?? '',
    resolve: (path: string) => path,
  };
  const line = lines.length - 3;
  const at = { line, character: lines[line]!.length };
  const header = { line: lines.findLastIndex((each) => each.startsWith('sweep')), character: 8 };
  let latest = workbook.document('campaign.sweepbook')!;
  const document = () => latest;
  const files = () => [{ file: 'campaign.sweepbook', document: latest }];
  const openAnew = (): void => {
    latest = parseDocument(text);
    for (const { block } of latest.blocks) void block.lines.length;
  };
  const host: FixHost = {
    document,
    resolve: (_, path) => path,
    paths: () => Promise.resolve([]),
    read: (file) => Promise.resolve(generated.files.get(file)),
  };
  const problem = evaluation.problems.find(({ id }) => id === 'name/unknown')!;
  const tasks: readonly (readonly [string, () => unknown])[] = [
    ['completion of a name', () => completionsAt(evaluation, open, { ...header, character: 6 })],
    ['completion of a unit', () => completionsAt(evaluation, open, at)],
    ['hint of a value', () => signatureAt(open, at)],
    ['quick fixes of a problem', () => quickFixes(problem, evaluation, host)],
    ['references of a name', () => placesOf(files(), nameAt(document(), header)!)],
    ['highlights', () => highlightsAt(document(), header)],
    ['renaming a module type', () => renameEdits(files(), { space: 'module', text: 'M' }, 'N')],
    ['links', () => [...writtenPaths(document())]],
    ['folding', () => foldingRegions(document())],
    ['growing selection', () => selectionRanges(document(), at)],
    ['semantic tokens', () => encodeSemanticTokens(document())],
    ['formatting the file', () => formatEdits(document())],
    ['formatting a line', () => formatTyped(document(), line)],
    ['names of the workspace', () => workspaceSymbols(files(), 'S019')],
    ['unused names', () => unusedNames(evaluation)],
    ['an edit parsed', () => parseDocument(`${text}#`, document())],
  ];
  console.log(
    `\nWriting in a file of ${strings} strings (${lines.length} lines, ${(text.length / 1024).toFixed(0)} kB), in milliseconds.`,
  );
  console.log('                            opened     again');
  const median = (times: number[]): number => times.sort((a, b) => a - b)[times.length >> 1]!;
  const timed = async (task: () => unknown): Promise<number> => {
    const start = performance.now();
    await task();
    return performance.now() - start;
  };
  for (const [name, task] of tasks) {
    const [opened, again]: [number[], number[]] = [[], []];
    for (let run = 0; run < 9; run++) {
      openAnew();
      opened.push(await timed(task));
      again.push(await timed(task));
    }
    console.log(
      `${name.padEnd(26)} ${median(opened).toFixed(2).padStart(7)} ${median(again).toFixed(2).padStart(9)}`,
    );
  }
}
