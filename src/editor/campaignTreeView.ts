/** The campaign at hand in the explorer: sites, planes, strings and sweeps with their verdicts. */
import * as vscode from 'vscode';
import { campaignTree, type TreeNode } from '../presentation/campaignTree.js';
import type { VerdictTone } from '../presentation/verdictWords.js';
import type { Campaigns } from './campaigns.js';
import { isCampaignDocument, uriOf } from './convert.js';

export const treeId = 'sweepbook.strings';

const kindIcons: Readonly<Record<TreeNode['kind'], string>> = {
  site: 'home',
  plane: 'layers',
  string: 'circle-outline',
  sweep: 'graph-line',
};

/** A shape beside the colour, as everywhere. */
const toneIcons: Readonly<Record<VerdictTone, vscode.ThemeIcon>> = {
  good: new vscode.ThemeIcon('pass', new vscode.ThemeColor('testing.iconPassed')),
  doubtful: new vscode.ThemeIcon('warning', new vscode.ThemeColor('list.warningForeground')),
  bad: new vscode.ThemeIcon('error', new vscode.ThemeColor('list.errorForeground')),
  neutral: new vscode.ThemeIcon('circle-outline'),
};

export class CampaignTreeView implements vscode.TreeDataProvider<TreeNode>, vscode.Disposable {
  readonly #campaigns: Campaigns;
  readonly #changed = new vscode.EventEmitter<void>();
  readonly #disposables: vscode.Disposable[];
  readonly onDidChangeTreeData = this.#changed.event;
  /** The campaign stays on show while another kind of file has the focus. */
  #uri: vscode.Uri | undefined;
  #onlyWork = false;

  constructor(campaigns: Campaigns) {
    this.#campaigns = campaigns;
    const view = vscode.window.createTreeView(treeId, { treeDataProvider: this, showCollapseAll: true });
    const turn = (editor: vscode.TextEditor | undefined): void => {
      if (!editor || !isCampaignDocument(editor.document)) return;
      this.#uri = editor.document.uri;
      this.#changed.fire();
    };
    this.#disposables = [
      view,
      this.#changed,
      campaigns.onDidEvaluate(() => this.#changed.fire()),
      vscode.window.onDidChangeActiveTextEditor(turn),
      vscode.commands.registerCommand('sweepbook.showAllStrings', () => this.#filter(false)),
      vscode.commands.registerCommand('sweepbook.showOnlyWork', () => this.#filter(true)),
      vscode.commands.registerCommand('sweepbook.revealInText', (node: TreeNode) => reveal(node)),
    ];
    turn(vscode.window.activeTextEditor);
    this.#filter(false);
    void vscode.commands.executeCommand('setContext', 'sweepbook.hasCampaign', true);
  }

  getChildren(node?: TreeNode): TreeNode[] {
    if (node) return [...node.children];
    const evaluation = this.#uri && this.#campaigns.latestOf(this.#uri);
    return evaluation ? campaignTree(evaluation, { onlyWork: this.#onlyWork }) : [];
  }

  getTreeItem(node: TreeNode): vscode.TreeItem {
    const { Collapsed, Expanded, None } = vscode.TreeItemCollapsibleState;
    const opened = node.kind === 'site' || node.kind === 'plane' ? Expanded : Collapsed;
    const item = new vscode.TreeItem(node.label, node.children.length > 0 ? opened : None);
    item.id = node.id;
    item.description = node.description;
    item.tooltip = node.tooltip;
    item.iconPath = node.tone ? toneIcons[node.tone] : new vscode.ThemeIcon(kindIcons[node.kind]);
    item.contextValue = node.kind;
    item.accessibilityInformation = { label: `${node.label}, ${node.description}` };
    if (node.place) {
      const title = vscode.l10n.t('Go to Its Line');
      item.command = { command: 'sweepbook.revealInText', title, arguments: [node] };
    }
    return item;
  }

  #filter(onlyWork: boolean): void {
    this.#onlyWork = onlyWork;
    void vscode.commands.executeCommand('setContext', 'sweepbook.onlyWork', onlyWork);
    this.#changed.fire();
  }

  dispose(): void {
    for (const disposable of this.#disposables) disposable.dispose();
  }
}

async function reveal({ place }: TreeNode): Promise<void> {
  if (!place) return;
  const line = new vscode.Position(place.line, 0);
  await vscode.window.showTextDocument(uriOf(place.file), { selection: new vscode.Range(line, line) });
}
