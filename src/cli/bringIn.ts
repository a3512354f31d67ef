import { realpath } from 'node:fs/promises';
import { statSync } from 'node:fs';
import path from 'node:path';
import { isDynamicPattern } from 'tinyglobby';
import { faultOfAnswer } from '../bringIn/answers.js';
import { bringIn as findIn } from '../bringIn/bringIn.js';
import {
  missingOf,
  withAnswers,
  type FoundTable,
  type LeftOut,
  type TableInput,
} from '../bringIn/foundTable.js';
import {
  curveInCharacters,
  factWords,
  columnWords,
  formWords,
  missingWords,
  pointWords,
} from '../bringIn/foundWords.js';
import { namedFiles, onlyInstruments } from '../bringIn/namedFiles.js';
import { askedKinds, type Asked } from '../bringIn/tableFacts.js';
import { canBeWritten, gapBehind, writtenBlocks } from '../bringIn/writtenBlocks.js';
import type { Campaign } from '../campaign/model.js';
import { emptyCampaign } from '../campaign/resolveCampaign.js';
import { campaignFileLimit, tableFileLimit } from '../evaluation/fileStore.js';
import { failureText } from '../evaluation/loadFiles.js';
import { tableEndings } from '../evaluation/tableFiles.js';
import { Workbook } from '../evaluation/workbook.js';
import { printable } from '../presentation/terminalText.js';
import { exitStatus } from './exitStatus.js';
import { isCampaign } from './findCampaigns.js';
import { globFiles } from './globFiles.js';
import { complain, type Io } from './io.js';
import { NodeFiles, readPlainFile, workspaceFolderOf } from './nodeFiles.js';
import { writeWhole } from './writeWhole.js';

export interface BringInOptions extends Partial<Record<Asked, string>> {
  readonly into?: string;
  readonly print?: boolean;
  readonly with?: string;
  readonly writeLayout?: boolean;
  readonly root?: string;
}

/** The file that blocks are put behind, as it was when it was read. */
interface Target {
  readonly file: string;
  readonly text: string;
}

/**
 * Says what CSV files hold and prints the blocks that name them; writes them behind a campaign file with `--into` and without
 * `--print`. Status 0 when every file is in the campaign now, with all that it needs.
 */
export async function bringIn(args: readonly string[], options: BringInOptions, io: Io): Promise<number> {
  const fail = (message: string): number => {
    complain(io, message);
    return exitStatus.notComputable;
  };
  const target = options.into === undefined ? undefined : await readTarget(options.into, io);
  if (typeof target === 'string') return fail(target);
  const folder = target ? path.dirname(target.file) : io.workingFolder;
  const root = options.root ?? (target ? workspaceFolderOf(target.file, io.workingFolder) : io.workingFolder);
  const reader = new NodeFiles(path.resolve(io.workingFolder, root), io.workingFolder);
  const campaign = target ? await new Workbook(reader).campaignOf(target.file) : emptyCampaign;
  const fault = faultOfOptions(options, campaign);
  if (fault !== undefined) {
    complain(io, fault);
    return exitStatus.usage;
  }
  const from = target?.file ?? path.join(folder, 'x');
  const { inputs, left: unread } = await readInputs(args, { reader, from, folder, io });
  const named = namedFiles(campaign, (file, relative) => reader.resolve(file, relative));
  const brought = await findIn(inputs, { campaign, named, writeLayout: options.writeLayout });
  const answered = brought.found.map((found) => withAnswers(found, answersFor(found, options)));
  const doubtful = answered.filter((found) => found.kind === 'sweep' && found.choices.length > 1);
  const written = answered.filter((found) => !doubtful.includes(found) && canBeWritten(found));
  const left = [...unread, ...brought.left, ...doubtful.map(asDoubtful)];
  const instruments = options.with?.split(',').map((name) => name.trim()) ?? onlyInstruments(campaign);
  const unsettled = instruments.length === 0 ? [...campaign.instruments.keys()] : [];
  const text = writtenBlocks(written, {
    with: instruments,
    lineEnd: target?.text.includes('\r\n') ? '\r\n' : '\n',
  });
  const isDry = !target || options.print === true;
  const say = isDry ? io.error : io.out;
  for (const found of answered.filter((each) => !doubtful.includes(each))) say(wordsOf(found, unsettled));
  for (const { path: name, reason } of left) say(`${printable(name)}: ${printable(reason)}\n`);
  if (isDry) io.out(text);
  else if (written.length > 0) {
    const gone = await append(target, text);
    if (gone !== undefined) return fail(gone);
  }
  const count = `${written.length} of ${inputs.length + unread.length} files`;
  say(isDry ? `${count} can be brought in; nothing was written.\n` : `${count} brought in.\n`);
  const isWhole =
    left.every(({ isNamed }) => isNamed) &&
    unsettled.length === 0 &&
    answered.every((found) => missingOf(found).length === 0);
  return isWhole && inputs.length + unread.length > 0 ? exitStatus.pass : exitStatus.notComputable;
}

async function readTarget(into: string, io: Io): Promise<Target | string> {
  if (!into.endsWith('.sweepbook')) return `--into ${into}: not a campaign file; its name ends in .sweepbook`;
  // What a link leads to is written, not the link.
  const file = await realpath(path.resolve(io.workingFolder, into)).catch(() => undefined);
  const text = file === undefined ? 'there is no such file' : await textOfTarget(file);
  return typeof text === 'string' ? `--into ${into}: ${text}` : { file: file!, ...text };
}

/** Why there is none, in words. */
async function textOfTarget(file: string): Promise<{ readonly text: string } | string> {
  const content = await readPlainFile(file, campaignFileLimit);
  if (!content.ok) return failureText(content);
  try {
    return { text: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(content.bytes) };
  } catch {
    return 'not UTF-8; save it as UTF-8 first';
  }
}

/** Nothing is written when the file changed while the tables were read. */
async function append({ file, text }: Target, blocks: string): Promise<string | undefined> {
  const now = await textOfTarget(file);
  if (typeof now === 'string' || now.text !== text)
    return `${file} changed in the meantime; nothing was written`;
  try {
    await writeWhole(file, text + gapBehind(text) + blocks);
    return undefined;
  } catch (error) {
    return `${file}: nothing was written: ${(error as Error).message}`;
  }
}

function faultOfOptions(options: BringInOptions, campaign: Campaign): string | undefined {
  for (const asked of askedKinds) {
    const text = options[asked];
    if (text === undefined) continue;
    // The kind of a temperature alone, for tables that give the value.
    const isKind = asked === 'temperature' && /^(?:cell|module)\b/.test(text);
    const fault = faultOfAnswer(asked, isKind ? `25 degC ${text}` : text, 'sweep', campaign);
    if (fault !== undefined) return `--${asked} ${text}: ${fault}`;
  }
  const unknown = options.with?.split(',').find((name) => !campaign.instruments.has(name.trim()));
  return unknown === undefined
    ? undefined
    : `--with ${unknown}: the campaign has no such tracer or reference`;
}

function answersFor(found: FoundTable, options: BringInOptions): Partial<Record<Asked, string>> {
  return Object.fromEntries(missingOf(found).map((asked) => [asked, options[asked]]));
}

function asDoubtful(found: FoundTable): LeftOut {
  const titles = found.kind === 'sweep' ? found.choices.slice(0, 3).map(({ title }) => title) : [];
  const reason = `Its columns can be read in several ways: ${titles.join('; or ')}. Write a layout with the right one first.`;
  return { kind: 'left', file: found.file, path: found.path, reason, isNamed: false };
}

/** @param unsettled tracers and references of which nobody said which were used */
function wordsOf(found: FoundTable, unsettled: readonly string[]): string {
  const curve = found.kind === 'sweep' ? ` ${curveInCharacters(found.reading.curve)}` : '';
  const missing = [
    ...(missingWords(found) === '' ? [] : [missingWords(found)]),
    ...(unsettled.length === 0 ? [] : [`with (which of ${unsettled.join(', ')})`]),
  ];
  const asked = missing.length === 0 ? [] : [`  missing: ${missing.join(', ')}`];
  const lines = [
    `${printable(found.path)}: ${pointWords(found)}${curve}`,
    `  ${printable(`${formWords(found.recognised)}; ${columnWords(found)}`)}`,
    ...(factWords(found) === '' ? [] : [`  ${printable(factWords(found))}`]),
    ...found.remarks.map((remark) => `  ${printable(remark)}`),
    ...asked.map(printable),
  ];
  return `${lines.join('\n')}\n`;
}

async function readInputs(
  args: readonly string[],
  { reader, from, folder, io }: { reader: NodeFiles; from: string; folder: string; io: Io },
): Promise<{ inputs: TableInput[]; left: LeftOut[] }> {
  const inputs: TableInput[] = [];
  const left: LeftOut[] = [];
  for (const file of await filesOf(args, io.workingFolder)) {
    const relative = path.relative(folder, file).split(path.sep).join('/');
    const refuse = (reason: string): unknown =>
      left.push({ kind: 'left', file, path: relative, reason, isNamed: false });
    if (reader.resolve(from, relative) !== file) {
      refuse(
        'It lies outside of the folder that the paths of the campaign may not leave; copy it into that folder.',
      );
      continue;
    }
    const content = await reader.read(file, tableFileLimit);
    if (content.ok) inputs.push({ file, path: relative, bytes: content.bytes });
    else refuse(unreadable[content.reason]);
  }
  return { inputs, left };
}

const unreadable = {
  missing: 'There is no such file.',
  'too-large': 'It has more than 32 MB.',
  'not-a-file': 'It is not a file.',
  unreadable: 'It cannot be read.',
} as const;

const tables = `**/*.{${tableEndings.join(',')}}`;

/** Files, the tables below folders, and what patterns match; `site/**` means no campaigns. */
async function filesOf(args: readonly string[], workingFolder: string): Promise<string[]> {
  const files = new Set<string>();
  for (const argument of args) {
    const absolute = path.resolve(workingFolder, argument);
    const stat = statSync(absolute, { throwIfNoEntry: false });
    const found = stat?.isDirectory()
      ? await globFiles(tables, absolute, { anyCase: true })
      : !stat && isDynamicPattern(argument)
        ? (await globFiles(argument, workingFolder)).filter((file) => !isCampaign(file))
        : [absolute];
    for (const file of found) files.add(file);
  }
  return [...files];
}
