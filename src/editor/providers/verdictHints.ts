import * as vscode from 'vscode';
import type { EvaluatedSweep } from '../../evaluation/evaluation.js';
import { formatDeviation } from '../../presentation/formatNumber.js';
import { verdictMark } from '../../presentation/verdictWords.js';
import type { Campaigns } from '../campaigns.js';
import { keyOf } from '../convert.js';

/** Behind the first line of each sweep: its verdict and the deviation of its maximum power. */
export function verdictHints(campaigns: Campaigns): vscode.InlayHintsProvider & vscode.Disposable {
  const changed = new vscode.EventEmitter<void>();
  const listening = campaigns.onDidEvaluate(() => changed.fire());
  return {
    onDidChangeInlayHints: changed.event,
    provideInlayHints(document, range) {
      const isWanted = vscode.workspace
        .getConfiguration('sweepbook', document.uri)
        .get('inlayVerdicts', true);
      const evaluation = isWanted ? campaigns.latestOf(document.uri) : undefined;
      const file = keyOf(document.uri);
      return evaluation?.sweeps
        .filter(
          ({ block, tableLine }) =>
            block.file === file && tableLine === undefined && isIn(range, block.startLine),
        )
        .map(({ block, analysis }) => {
          const line = Math.min(block.startLine, document.lineCount - 1);
          const hint = new vscode.InlayHint(document.lineAt(line).range.end, hintText(analysis));
          hint.paddingLeft = true;
          return hint;
        });
    },
    dispose: () => vscode.Disposable.from(listening, changed).dispose(),
  };
}

const isIn = (range: vscode.Range, line: number): boolean =>
  line >= range.start.line && line <= range.end.line;

function hintText({ verdict, deviation }: EvaluatedSweep['analysis']): string {
  const mark = verdictMark(verdict);
  const power = deviation.pmax === undefined ? '' : `, Pmax ${formatDeviation(deviation.pmax)}`;
  return `\u00a0${mark.symbol} ${mark.word}${power}`;
}
