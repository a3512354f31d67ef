/** Tables dropped into the text or pasted as paths: the blocks that name them, with a tab stop for all that is missing. */
import * as vscode from 'vscode';
import { isTableName } from '../../evaluation/tableFiles.js';
import { isTable, tableInputs } from '../bringInFiles.js';
import type { Campaigns } from '../campaigns.js';

/** Dropped at once; more come in by the command, which asks. */
const mostFiles = 200;

export function dropProvider(campaigns: Campaigns): vscode.DocumentDropEditProvider {
  return {
    async provideDocumentDropEdits(document, position, data, token) {
      const uris = await urisOf(data);
      const edit = await editFor(campaigns, document, position, uris, token);
      // The place of the drop may lie within a block; the blocks go behind it.
      return edit && Object.assign(new vscode.DocumentDropEdit(''), { additionalEdit: edit });
    },
  };
}

async function urisOf(data: vscode.DataTransfer): Promise<vscode.Uri[]> {
  const list = (await data.get('text/uri-list')?.asString()) ?? '';
  return list
    .split(/\r?\n/)
    .filter((line) => line !== '' && !line.startsWith('#'))
    .flatMap((line) => {
      try {
        return [vscode.Uri.parse(line, true)];
      } catch {
        return [];
      }
    });
}

/** Undefined where not all are tables that a campaign can name: the editor then does what it always does. */
async function editFor(
  campaigns: Campaigns,
  document: vscode.TextDocument,
  position: vscode.Position,
  uris: readonly vscode.Uri[],
  token: vscode.CancellationToken,
): Promise<vscode.WorkspaceEdit | undefined> {
  if (uris.length === 0 || uris.length > mostFiles || !uris.every(isTable)) return undefined;
  const campaign = (await campaigns.evaluationOf(document.uri))?.campaign;
  if (!campaign || token.isCancellationRequested) return undefined;
  const { bringIn, namedFiles, onlyInstruments, blockSnippet } = await import('../later.js');
  const { inputs } = await tableInputs(campaigns.files, document.uri, uris);
  const named = namedFiles(campaign, (from, relative) => campaigns.files.resolve(from, relative));
  const { found } = await bringIn(inputs, { campaign, named });
  if (found.length === 0 || token.isCancellationRequested) return undefined;
  const snippet = blockSnippet(found, { with: onlyInstruments(campaign) });
  const { range, before, after } = placeBehind(document, position.line);
  const text = vscode.SnippetTextEdit.replace(range, new vscode.SnippetString(before + snippet + after));
  // Else every line would get the indentation of the line before it.
  Object.assign(text, { keepWhitespace: true });
  const edit = new vscode.WorkspaceEdit();
  edit.set(document.uri, [text]);
  return edit;
}

/** On an empty line as it is, else behind the block that the line belongs to, with an empty line on both sides. */
function placeBehind(
  document: vscode.TextDocument,
  line: number,
): { range: vscode.Range; before: string; after: string } {
  const isEmpty = (each: number): boolean => document.lineAt(each).isEmptyOrWhitespace;
  const isFilled = (each: number): boolean => each >= 0 && each < document.lineCount && !isEmpty(each);
  if (isEmpty(line)) {
    const isLast = line === document.lineCount - 1;
    const { range } = document.lineAt(line);
    return { range, before: isFilled(line - 1) ? '\n' : '', after: isLast || isFilled(line + 1) ? '\n' : '' };
  }
  let last = line;
  while (isFilled(last + 1) && /^\s/.test(document.lineAt(last + 1).text)) last++;
  if (last === document.lineCount - 1) {
    const { end } = document.lineAt(last).range;
    return { range: new vscode.Range(end, end), before: '\n\n', after: '\n' };
  }
  // At the start of a line: at the end of an indented one older editors would indent all that is put in.
  const next = new vscode.Range(last + 1, 0, last + 1, 0);
  return { range: next, before: '\n', after: isFilled(last + 1) ? '\n\n' : '\n' };
}

/** The part of the editor's paste interface that is used here: newer than the oldest editor that this extension runs in. */
interface PasteLanguages {
  registerDocumentPasteEditProvider(
    selector: vscode.DocumentSelector,
    provider: {
      provideDocumentPasteEdits(
        document: vscode.TextDocument,
        ranges: readonly vscode.Range[],
        data: vscode.DataTransfer,
        context: unknown,
        token: vscode.CancellationToken,
      ): Promise<PasteEdit[] | undefined>;
    },
    metadata: {
      readonly providedPasteEditKinds: readonly unknown[];
      readonly pasteMimeTypes: readonly string[];
    },
  ): vscode.Disposable;
}

interface PasteEdit {
  additionalEdit?: vscode.WorkspaceEdit;
}

interface PasteClasses {
  readonly DocumentPasteEdit: new (text: string, title: string, kind: unknown) => PasteEdit;
  readonly DocumentDropOrPasteEditKind: { readonly Empty: { append(...parts: string[]): unknown } };
}

/** Paths pasted on an empty line; anywhere else they stay the text that they are. */
export function registerPaste(campaigns: Campaigns, selector: vscode.DocumentSelector): vscode.Disposable {
  const none = new vscode.Disposable(() => undefined);
  const languages = vscode.languages as unknown as Partial<PasteLanguages>;
  if (!languages.registerDocumentPasteEditProvider) return none;
  try {
    return registerWith(languages as PasteLanguages, campaigns, selector);
  } catch {
    // Editors before 1.97 have it as a proposal, and refuse it to an extension that is installed as any other.
    return none;
  }
}

function registerWith(
  languages: PasteLanguages,
  campaigns: Campaigns,
  selector: vscode.DocumentSelector,
): vscode.Disposable {
  const { DocumentPasteEdit, DocumentDropOrPasteEditKind } = vscode as unknown as PasteClasses;
  const kind = DocumentDropOrPasteEditKind.Empty.append('sweepbook', 'sweeps');
  const title = vscode.l10n.t('Bring Sweeps In');
  return languages.registerDocumentPasteEditProvider(
    selector,
    {
      async provideDocumentPasteEdits(document, ranges, data, _context, token) {
        const [range] = ranges;
        if (ranges.length !== 1 || !range?.isEmpty) return undefined;
        if (!document.lineAt(range.start.line).isEmptyOrWhitespace) return undefined;
        const named = await urisOf(data);
        const uris =
          named.length > 0 ? named : pathsIn((await data.get('text/plain')?.asString()) ?? '', document.uri);
        const additionalEdit = await editFor(campaigns, document, range.start, uris, token);
        return additionalEdit && [Object.assign(new DocumentPasteEdit('', title, kind), { additionalEdit })];
      },
    },
    { providedPasteEditKinds: [kind], pasteMimeTypes: ['text/uri-list', 'text/plain'] },
  );
}

/** Lines that are all paths of tables: absolute, or relative to the campaign. */
function pathsIn(text: string, campaign: vscode.Uri): vscode.Uri[] {
  const lines = text.split(/\r?\n/).map((line) => line.trim().replace(/^"(.*)"$/, '$1'));
  const paths = lines.filter((line) => line !== '').map((line) => line.replaceAll('\\', '/'));
  if (paths.length === 0 || paths.length > mostFiles || !paths.every(isTableName)) return [];
  return paths.map((path) => {
    const isAbsolute = path.startsWith('/') || /^[a-z]:\//i.test(path);
    return isAbsolute
      ? campaign.with({ path: path.startsWith('/') ? path : `/${path}` })
      : vscode.Uri.joinPath(campaign, '..', path);
  });
}
