/** Questions for what no file tells: once for all files that lack it, or file by file. */
import * as vscode from 'vscode';
import { faultOfAnswer } from '../bringIn/answers.js';
import { missingOf, type FoundTable } from '../bringIn/foundTable.js';
import { askedKinds, type Asked } from '../bringIn/tableFacts.js';
import type { Campaign } from '../campaign/model.js';

export type Answers = ReadonlyMap<FoundTable, Partial<Record<Asked, string>>>;

/** Undefined once a question is left unanswered with Escape: nothing is brought in then. */
export async function askMissing(
  tables: readonly FoundTable[],
  campaign: Campaign,
): Promise<Answers | undefined> {
  const answers = new Map(tables.map((found) => [found, {} as Partial<Record<Asked, string>>]));
  for (const asked of askedKinds) {
    const lacking = tables.filter((found) => missingOf(found).includes(asked));
    const given = await askFor(asked, lacking, campaign);
    if (!given) return undefined;
    for (const [found, answer] of given) answers.get(found)![asked] = answer;
  }
  return answers;
}

type Given = ReadonlyMap<FoundTable, string>;

async function askFor(
  asked: Asked,
  lacking: readonly FoundTable[],
  campaign: Campaign,
): Promise<Given | undefined> {
  const given = new Map<FoundTable, string>();
  const withoutKind = lacking.filter((found) => found.facts[asked].withoutKind !== undefined);
  const others = lacking.filter((found) => !withoutKind.includes(found));
  if (withoutKind.length > 0) {
    const kind = await askKind(withoutKind);
    if (kind === undefined) return undefined;
    for (const found of withoutKind) given.set(found, kind);
  }
  if (others.length === 0) return given;
  const way = await askWay(asked, others);
  if (way === undefined) return undefined;
  if (way === 'none') return given;
  let value: string | undefined;
  for (const found of others) {
    if (way === 'each' || value === undefined)
      value = await askValue(asked, found, campaign, way === 'all' ? others.length : 1);
    if (value === undefined) return undefined;
    given.set(found, value);
  }
  return given;
}

function askKind(tables: readonly FoundTable[]): Thenable<string | undefined> {
  const [first] = tables;
  const items = [
    { label: 'cell', description: vscode.l10n.t('of the cell itself') },
    { label: 'module', description: vscode.l10n.t('behind the module; the difference to the cell is added') },
  ];
  const of = tables.length === 1 ? first!.path : vscode.l10n.t('{0} tables', tables.length);
  return vscode.window
    .showQuickPick(items, {
      title: vscode.l10n.t('{0}: which temperature is {1}?', of, first!.facts.temperature.withoutKind!),
      ignoreFocusOut: true,
    })
    .then((chosen) => chosen?.label);
}

type Way = 'all' | 'each' | 'none';

/** Addresses and times differ from file to file; a single file is asked at once. */
async function askWay(asked: Asked, tables: readonly FoundTable[]): Promise<Way | undefined> {
  if (!mayBeLeftOut(asked) || tables.length === 1) return 'each';
  const items: (vscode.QuickPickItem & { way: Way })[] = [
    { label: vscode.l10n.t('One value for all {0}', tables.length), way: 'all' },
    { label: vscode.l10n.t('One by one'), way: 'each' },
    { label: vscode.l10n.t('Leave it out for now'), way: 'none' },
  ];
  const chosen = await vscode.window.showQuickPick(items, {
    title: titles()[asked],
    placeHolder: tables.map(({ path }) => path).join(', '),
    ignoreFocusOut: true,
  });
  return chosen?.way;
}

/** A sweep without them is a sweep; one without address and time cannot be written. */
const mayBeLeftOut = (asked: Asked): boolean => asked === 'irradiance' || asked === 'temperature';

const titles = (): Readonly<Record<Asked, string>> => ({
  address: vscode.l10n.t('Address: string, string/position or string/first-last'),
  time: vscode.l10n.t('Time of the sweep, by the clock of the site'),
  irradiance: vscode.l10n.t('Irradiance in the plane of array during the sweep'),
  temperature: vscode.l10n.t('Temperature, of the cell or of the back of the module'),
});

const examples: Readonly<Record<Asked, string>> = {
  address: '1.03, 1.03/11, 1.03/1-9',
  time: '2026-05-14 11:42',
  irradiance: '812 W/m2',
  temperature: '44.1 degC cell',
};

function askValue(
  asked: Asked,
  found: FoundTable,
  campaign: Campaign,
  count: number,
): Thenable<string | undefined> {
  const { suggestion = '', doubt } = found.facts[asked];
  const of = count > 1 ? vscode.l10n.t('{0} tables', count) : found.path;
  const hints = [
    ...(doubt === undefined ? [] : [doubt]),
    ...(mayBeLeftOut(asked) ? [vscode.l10n.t('leave it empty to leave it out for now')] : []),
  ];
  return vscode.window.showInputBox({
    title: `${of}: ${titles()[asked]}`,
    prompt: hints.join('; '),
    placeHolder: examples[asked],
    value: suggestion,
    valueSelection: [suggestion.length, suggestion.length],
    ignoreFocusOut: true,
    validateInput: (text) =>
      text.trim() === '' && mayBeLeftOut(asked)
        ? undefined
        : faultOfAnswer(asked, text, found.kind, campaign),
  });
}
