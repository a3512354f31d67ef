/** Fixes for a layout that does not fit its table: one line of it changed or taken away, tried on the table first. */
import type { PlacedBlock } from '../../syntax/document.js';
import type { Line } from '../../syntax/token.js';
import { recogniseLayout } from '../../sweeps/recogniseLayout.js';
import { rangeOnLine } from '../../text/place.js';
import { removeLines, type Fix, type Fixer } from './fix.js';
import { columnText, formLines, readLayout, tryLayout } from './layoutText.js';
import { addLayout, tableOf } from './tableFixes.js';

interface Change {
  readonly line: Line;
  /** Undefined takes the line away. */
  readonly value?: string;
}

const mostOffers = 4;

/** The layout of the sweep, mended in one place; where it has none, one that fits. */
export const fitLayout: Fixer = async (input) => {
  const table = await tableOf(input);
  const { record } = table?.sweep ?? {};
  if (!table || record?.kind !== 'sweep' || !record.layout) return addLayout(input);
  const placed = input.evaluation.campaign.layouts.get(record.layout.text);
  const block = placed && input.host.document(placed.block.file)?.blockAt(placed.block.startLine);
  if (!placed || !block) return [];
  const before = tryLayout(table.bytes, placed.record);
  const fitting = changes(block, table.bytes)
    .map((change) => ({ change, trial: tryLayout(table.bytes, readLayout(changed(block, change))) }))
    .filter(({ trial }) => trial && (!before || trial.complaints < before.complaints))
    .sort((a, b) => a.trial!.complaints - b.trial!.complaints);
  const fixes = fitting.slice(0, mostOffers).map(({ change }) => toFix(placed.block.file, block, change));
  return fixes.map((fix) => ({ ...fix, isPreferred: fixes.length === 1 }));
};

function changed({ block }: PlacedBlock, { line, value }: Change): string[] {
  return block.lines
    .filter((each) => each !== line || value !== undefined)
    .map((each) => (each === line ? `  ${line.tokens[0]!.text} ${value!}` : each.text));
}

/** What may be wrong with a layout: each line may be too much, or say another thing than the table. */
function changes({ block }: PlacedBlock, bytes: Uint8Array): Change[] {
  const recognised = recogniseLayout(bytes).layout;
  const form = new Map(recognised ? formLines(recognised) : []);
  const columns = recognised?.columns ?? [];
  return block.lines.slice(1).flatMap((line): Change[] => {
    const name = line.tokens[0]?.text;
    const values: (string | undefined)[] = [];
    if (name === 'decimal') values.push(...['comma', 'point']);
    if (name === 'delimiter') values.push(form.get('delimiter'));
    if (name === 'sign') values.push('positive', 'negative');
    if (name === 'header') values.push('yes', 'no');
    if (name === 'skip' && recognised?.headerLine !== undefined)
      values.push(`${recognised.headerLine - 1} lines`);
    if (name === 'voltage' || name === 'current') {
      const likely = [...columns].sort((a, b) => Number(b.role === name) - Number(a.role === name));
      const unit =
        line.tokens.at(-1)!.kind === 'word' && line.tokens.length > 2 ? line.tokens.at(-1)!.text : '';
      values.push(
        ...likely
          .slice(0, 12)
          .flatMap((column) => [columnText(column, columns), columnText(column, columns, unit)]),
      );
      const own = line.text.slice(line.tokens[1]?.start ?? 0, line.tokens[1]?.end ?? 0);
      const usual = name === 'voltage' ? 'V' : 'A';
      values.push(own, `${own} ${usual}`, `${own} m${usual}`);
    }
    const written = line.text.slice(line.tokens[1]?.start ?? 0, line.tokens.at(-1)?.end ?? 0);
    const others = [...new Set(values)].filter((value) => value !== undefined && value !== written);
    const mayGo = ['decimal', 'delimiter', 'skip', 'header', 'sign', 'irradiance', 'temperature'].includes(
      name ?? '',
    );
    return [...others.map((value) => ({ line, value })), ...(mayGo ? [{ line }] : [])];
  });
}

function toFix(file: string, { startLine, block }: PlacedBlock, { line, value }: Change): Fix {
  const layout = block.header!.tokens[1]!.text;
  const at = startLine + line.number;
  const [name, first] = [line.tokens[0]!.text, line.tokens[1]!];
  if (value === undefined)
    return { title: `Remove \`${name}\` from layout \`${layout}\``, edits: [removeLines(file, at)] };
  const range = rangeOnLine(at, first.start, line.tokens.at(-1)!.end);
  return {
    title: `Write \`${name} ${value}\` in layout \`${layout}\``,
    edits: [{ file, range, text: value }],
  };
}
