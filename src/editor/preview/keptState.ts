/** What a page kept of itself over closing and opening of the window. */
import type * as vscode from 'vscode';
import { readPanelState, type PanelState } from '../../messages/previewMessages.js';
import { uriOf } from '../convert.js';

export type KeptState = Omit<PanelState, 'file'> & {
  /** Undefined where none was kept, or what was kept makes no sense. */
  readonly uri: vscode.Uri | undefined;
};

export function readKeptState(state: unknown): KeptState {
  const { file, ...kept } = readPanelState(state);
  return { ...kept, uri: uriIfAny(file) };
}

function uriIfAny(file: string | undefined): vscode.Uri | undefined {
  try {
    return file === undefined ? undefined : uriOf(file);
  } catch {
    return undefined;
  }
}
