/** A report of the campaign being written: asked what it should hold, drawn, and put beside the campaign or where it was told. */
import * as vscode from 'vscode';
import type { Evaluation } from '../evaluation/evaluation.js';
import { stringNames } from '../evaluation/stringNames.js';
import {
  extensionOf,
  languages,
  papers,
  type ReportContent,
  type ReportFormat,
} from '../report/reportOptions.js';
import type { Campaigns } from './campaigns.js';
import { languageId, uriOf } from './convert.js';
import { reportProgram } from './reportProgram.js';
import { writeWhole } from './writeWhole.js';

interface Choice {
  readonly content: ReportContent;
  readonly string?: string;
}

export async function writeReport(campaigns: Campaigns, extension: vscode.Extension<unknown>): Promise<void> {
  const document = vscode.window.activeTextEditor?.document;
  const evaluation =
    document?.languageId === languageId ? await campaigns.evaluationOf(document.uri) : undefined;
  if (!evaluation) {
    void vscode.window.showInformationMessage(vscode.l10n.t('Open a campaign file to write its report.'));
    return;
  }
  const choice = await askContent(evaluation);
  const format = choice && (await askFormat());
  const target = format && (await askTarget(uriOf(evaluation.root), choice, format));
  if (!target) return;
  const content = await rendered(campaigns, extension, evaluation, choice, format);
  if (content === undefined) return;
  const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content;
  if (await writeWhole(target, bytes)) await offerToOpen(target, format);
}

async function askContent(evaluation: Evaluation): Promise<Choice | undefined> {
  const { t } = vscode.l10n;
  const items: (vscode.QuickPickItem & { readonly choice?: Choice })[] = [
    { label: t('Full report'), detail: t('Everything, for the file'), choice: { content: 'full' } },
    { label: t('Summary'), detail: t('Two pages for the client'), choice: { content: 'summary' } },
    {
      label: t('Fault list'),
      detail: t('What is to be repaired and where, with the cautions'),
      choice: { content: 'faults' },
    },
    { label: t('One string'), kind: vscode.QuickPickItemKind.Separator },
    ...stringNames(evaluation).map((string) => ({
      label: t('String {0}', string),
      choice: { content: 'full' as const, string },
    })),
  ];
  const picked = await vscode.window.showQuickPick(items, {
    title: t('Write Report'),
    placeHolder: t('What it should hold'),
  });
  return picked?.choice;
}

async function askFormat(): Promise<ReportFormat | undefined> {
  const { t } = vscode.l10n;
  const items: (vscode.QuickPickItem & { readonly format: ReportFormat })[] = [
    { label: 'PDF', detail: t('To print, to sign and to send'), format: 'pdf' },
    { label: 'HTML', detail: t('One page for any browser'), format: 'html' },
    { label: 'Markdown', detail: t('For pull requests; without charts'), format: 'markdown' },
    { label: t('Plain text'), detail: t('Without charts'), format: 'text' },
  ];
  const picked = await vscode.window.showQuickPick(items, { title: t('Write Report') });
  return picked?.format;
}

function askTarget(
  root: vscode.Uri,
  { content, string }: Choice,
  format: ReportFormat,
): Thenable<vscode.Uri | undefined> {
  const part = string === undefined ? (content === 'full' ? '' : `-${content}`) : `-${string}`;
  const path = root.path.replace(/(\.sweepbook)?$/, `${part}${extensionOf[format]}`);
  return vscode.window.showSaveDialog({
    title: vscode.l10n.t('Write Report'),
    defaultUri: root.with({ path }),
    filters: { [format]: [extensionOf[format].slice(1)] },
  });
}

/** Undefined where the user gave up. */
function rendered(
  campaigns: Campaigns,
  extension: vscode.Extension<unknown>,
  evaluation: Evaluation,
  choice: Choice,
  format: ReportFormat,
): Thenable<string | Uint8Array | undefined> {
  const settings = vscode.workspace.getConfiguration('sweepbook', uriOf(evaluation.root));
  const wanted = {
    language: settings.get<string>('report.language'),
    paper: settings.get<string>('report.paper'),
  };
  const options = {
    ...choice,
    language: languages.find((each) => each === wanted.language) ?? 'en',
    paper: papers.find((each) => each === wanted.paper) ?? 'A4',
    display: (file: string) => campaigns.files.displayName(file),
    version: String((extension.packageJSON as { version: unknown }).version),
  };
  const { t } = vscode.l10n;
  const shown = { curves: t('curves'), pages: t('pages') };
  return vscode.window.withProgress(
    { location: vscode.ProgressLocation.Notification, title: t('Writing the report'), cancellable: true },
    async (progress, cancelled) => {
      const { renderReport } = await reportProgram(extension.extensionUri);
      const given = new GivenUp();
      try {
        return await renderReport(evaluation, options, {
          format,
          created: new Date(),
          files: campaigns.files,
          progress: async (step, done, of) => {
            if (done % 10 !== 0) return;
            progress.report({ message: `${shown[step]} ${Math.floor((100 * done) / of)} %` });
            // The click on Cancel has to come through.
            await new Promise<void>((resolve) => setTimeout(resolve, 0));
            if (cancelled.isCancellationRequested) throw given;
          },
        });
      } catch (error) {
        if (error === given) return undefined;
        throw error;
      }
    },
  );
}

class GivenUp extends Error {}

async function offerToOpen(target: vscode.Uri, format: ReportFormat): Promise<void> {
  const open = vscode.l10n.t('Open');
  const name = target.path.slice(target.path.lastIndexOf('/') + 1);
  const answer = await vscode.window.showInformationMessage(vscode.l10n.t('Wrote {0}.', name), open);
  if (answer !== open) return;
  const isText = format === 'markdown' || format === 'text';
  if (isText) await vscode.window.showTextDocument(target);
  else if (target.scheme === 'file') await vscode.env.openExternal(target);
  else await vscode.commands.executeCommand('vscode.open', target);
}
