/**
 * The part that draws reports, in a file of its own: with its fonts and charts it is larger than all the rest, and most sessions
 * never ask for a report. It is read and run as the editor reads and runs this extension in the browser, where no other way
 * leads to a second file.
 */
import * as vscode from 'vscode';
import type { renderReport } from '../report/renderReport.js';

export interface ReportProgram {
  readonly renderReport: typeof renderReport;
}

let loaded: Promise<ReportProgram> | undefined;

/** Once; a failure is not kept. */
export function reportProgram(extension: vscode.Uri): Promise<ReportProgram> {
  loaded ??= load(extension).catch((error: unknown) => {
    loaded = undefined;
    throw error;
  });
  return loaded;
}

async function load(extension: vscode.Uri): Promise<ReportProgram> {
  const bytes = await vscode.workspace.fs.readFile(vscode.Uri.joinPath(extension, 'dist/report.js'));
  const module = { exports: {} as ReportProgram };
  // The code is the extension's own, from its own folder.
  const run = new Function('module', 'exports', new TextDecoder().decode(bytes)) as (
    module: { exports: ReportProgram },
    exports: object,
  ) => void;
  run(module, module.exports);
  return module.exports;
}
