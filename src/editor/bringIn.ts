/** CSV files into the campaign: chosen, understood, what is missing asked for, and put behind the text as one step. */
import * as vscode from 'vscode';
import { bringIn as findIn, withChoice } from '../bringIn/bringIn.js';
import { withAnswers, type FoundTable, type LeftOut } from '../bringIn/foundTable.js';
import {
  curveInCharacters,
  factWords,
  columnWords,
  formWords,
  missingWords,
  pointWords,
} from '../bringIn/foundWords.js';
import { namedFiles, usualInstruments } from '../bringIn/namedFiles.js';
import { canBeWritten, gapBehind, writtenBlocks } from '../bringIn/writtenBlocks.js';
import type { Campaign } from '../campaign/model.js';
import { tableEndings } from '../evaluation/tableFiles.js';
import { breatheInTurns } from '../workspace/breathe.js';
import { askMissing } from './bringInQuestions.js';
import { tableInputs, tablesAmong } from './bringInFiles.js';
import type { Campaigns } from './campaigns.js';
import { languageId } from './convert.js';

/** @param chosen files or folders, as the explorer hands them over; asked for where there are none. */
export async function bringSweepsIn(campaigns: Campaigns, chosen: readonly vscode.Uri[]): Promise<void> {
  const document = await campaignDocument();
  if (!document) return;
  const uris = await tablesAmong(chosen.length > 0 ? chosen : await askFiles(document.uri));
  if (uris.length === 0) {
    if (chosen.length > 0)
      void vscode.window.showInformationMessage(
        vscode.l10n.t('There are no tables (csv, tsv, txt, dat) among them.'),
      );
    return;
  }
  const campaign = (await campaigns.evaluationOf(document.uri))?.campaign;
  if (!campaign) return;
  const brought = await understand(campaigns, document, campaign, uris);
  const picked = await pick(brought);
  if (!picked) return;
  const settled = await askLayouts(picked);
  const answers = settled && (await askMissing(settled, campaign));
  const instruments = answers && (await askInstruments(campaign));
  if (!settled || !answers || !instruments) return;
  const complete = settled.map((found) => withAnswers(found, answers.get(found) ?? {})).filter(canBeWritten);
  await insertAtEnd(document, writtenBlocks(complete, { with: instruments }));
}

/** The campaign being written, else one of the workspace. */
async function campaignDocument(): Promise<vscode.TextDocument | undefined> {
  const { activeTextEditor, visibleTextEditors } = vscode.window;
  const shown = [activeTextEditor, ...visibleTextEditors].find(
    (editor) => editor?.document.languageId === languageId,
  );
  if (shown) return shown.document;
  const files = await vscode.workspace.findFiles('**/*.sweepbook', '**/{node_modules,.git}/**', 500);
  if (files.length === 0) {
    const create = vscode.l10n.t('New Campaign');
    const message = vscode.l10n.t('There is no campaign file to bring sweeps into.');
    if ((await vscode.window.showInformationMessage(message, create)) === create)
      await vscode.commands.executeCommand('sweepbook.newCampaign');
    return undefined;
  }
  const items = files
    .map((uri) => ({ label: vscode.workspace.asRelativePath(uri), uri }))
    .sort((a, b) => (a.label < b.label ? -1 : 1));
  const chosen =
    items.length === 1
      ? items[0]
      : await vscode.window.showQuickPick(items, {
          title: vscode.l10n.t('Campaign that the sweeps go into'),
        });
  return chosen && vscode.workspace.openTextDocument(chosen.uri);
}

async function askFiles(campaign: vscode.Uri): Promise<readonly vscode.Uri[]> {
  const chosen = await vscode.window.showOpenDialog({
    title: vscode.l10n.t('Tables of sweeps'),
    openLabel: vscode.l10n.t('Bring In'),
    canSelectMany: true,
    defaultUri: vscode.Uri.joinPath(campaign, '..'),
    filters: { [vscode.l10n.t('Tables')]: [...tableEndings], [vscode.l10n.t('All files')]: ['*'] },
  });
  return chosen ?? [];
}

interface Understood {
  readonly found: readonly FoundTable[];
  readonly left: readonly LeftOut[];
}

function understand(
  campaigns: Campaigns,
  document: vscode.TextDocument,
  campaign: Campaign,
  uris: readonly vscode.Uri[],
): Thenable<Understood> {
  const progress = { location: vscode.ProgressLocation.Window, title: vscode.l10n.t('Reading tables') };
  return vscode.window.withProgress(progress, async () => {
    const { inputs, left } = await tableInputs(campaigns.files, document.uri, uris);
    const named = namedFiles(campaign, (from, relative) => campaigns.files.resolve(from, relative));
    const brought = await findIn(inputs, { campaign, named, breathe: breatheInTurns() });
    return { found: brought.found, left: [...brought.left, ...left] };
  });
}

interface FoundItem extends vscode.QuickPickItem {
  readonly found?: FoundTable;
}

/** One row a file; those that stay out stand below with the reason, and cannot be brought in. */
async function pick({ found, left }: Understood): Promise<FoundTable[] | undefined> {
  const items: FoundItem[] = found.map((each) => ({
    label: labelOf(each),
    description: `${each.kind === 'sweep' ? `${curveInCharacters(each.reading.curve, 7)} ` : ''}${pointWords(each)}`,
    detail: detailOf(each),
    picked: true,
    found: each,
  }));
  const others: FoundItem[] = left.map(({ path, reason }) => ({
    label: `$(circle-slash) ${path}`,
    detail: reason,
  }));
  const separator: FoundItem[] =
    others.length > 0 ? [{ label: vscode.l10n.t('Left out'), kind: vscode.QuickPickItemKind.Separator }] : [];
  const chosen = await vscode.window.showQuickPick([...items, ...separator, ...others], {
    title: vscode.l10n.t('Bring Sweeps In: what was understood'),
    placeHolder: vscode.l10n.t('Take away what is not to be brought in'),
    canPickMany: true,
    matchOnDescription: true,
    matchOnDetail: true,
    ignoreFocusOut: true,
  });
  const picked = chosen?.flatMap((item) => item.found ?? []);
  return picked && picked.length > 0 ? picked : undefined;
}

function labelOf(found: FoundTable): string {
  if (found.kind === 'sweeps') return `$(table) ${found.path}`;
  const { address, time } = found.facts;
  return `${address.fact?.text ?? '?'}  ${time.fact?.text ?? ''}`.trim();
}

function detailOf(found: FoundTable): string {
  const missing = missingWords(found);
  const parts = [
    ...(missing === '' ? [] : [`$(question) ${vscode.l10n.t('asked next: {0}', missing)}`]),
    ...(found.kind === 'sweep' ? [found.path] : []),
    columnWords(found),
    formWords(found.recognised),
    factWords(found),
    ...found.remarks,
  ];
  return parts.filter((part) => part !== '').join(' · ');
}

/** Once for each layout that is not clear; tables that share it share the answer. */
async function askLayouts(picked: readonly FoundTable[]): Promise<FoundTable[] | undefined> {
  let settled = [...picked];
  for (const found of picked) {
    if (found.kind !== 'sweep' || found.choices.length < 2) continue;
    const items = found.choices.map((choice) => ({ label: choice.title, choice }));
    const chosen = await vscode.window.showQuickPick(items, {
      title: vscode.l10n.t('{0}: which columns?', found.path),
      ignoreFocusOut: true,
    });
    if (!chosen) return undefined;
    const shares = (each: FoundTable): boolean => each.layout?.name === found.layout?.name;
    settled = settled.map((each) =>
      each.kind === 'sweep' && shares(each) ? withChoice(each, chosen.choice) : each,
    );
  }
  return settled;
}

/** Those of all sweeps so far are ticked. Nothing to ask where the campaign declares none. */
async function askInstruments({
  instruments,
  ...campaign
}: Campaign): Promise<readonly string[] | undefined> {
  if (instruments.size === 0) return [];
  const usual = usualInstruments({ instruments, ...campaign });
  const items = [...instruments].map(([label, { record }]) => ({
    label,
    description: [record.kind, record.title].filter(Boolean).join(', '),
    picked: usual.includes(label),
  }));
  const chosen = await vscode.window.showQuickPick(items, {
    title: vscode.l10n.t('Tracer and reference used'),
    canPickMany: true,
    ignoreFocusOut: true,
  });
  return chosen?.map(({ label }) => label);
}

/** Shows the first of the blocks, and the curves of it beside. */
async function insertAtEnd(document: vscode.TextDocument, blocks: string): Promise<void> {
  if (blocks === '') return;
  const editor = await vscode.window.showTextDocument(document);
  const end = document.validateRange(new vscode.Range(0, 0, Infinity, Infinity)).end;
  const gap = gapBehind(document.getText()).replaceAll('\r\n', '\n');
  const text = gap + blocks;
  if (!(await editor.edit((edit) => edit.insert(end, text)))) {
    void vscode.window.showErrorMessage(
      vscode.l10n.t('The text could not be changed; nothing was brought in.'),
    );
    return;
  }
  const first = text.split('\n').findIndex((line) => /^sweeps? /.test(line));
  const at = new vscode.Position(end.line + Math.max(0, first), 0);
  editor.selection = new vscode.Selection(at, at);
  editor.revealRange(new vscode.Range(at, at), vscode.TextEditorRevealType.InCenter);
  await vscode.commands.executeCommand('sweepbook.openCurves');
}
