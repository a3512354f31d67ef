/** The editor, as the panel's page sees it. */
import { readPanelState, type PanelState, type ToEditor } from '../messages/previewMessages.js';

interface EditorApi {
  postMessage(message: ToEditor): void;
  getState(): unknown;
  setState(state: PanelState): void;
}

declare function acquireVsCodeApi(): EditorApi;

const api = acquireVsCodeApi();

export function tellEditor(message: ToEditor): void {
  api.postMessage(message);
}

/** What is kept while the panel is hidden or the window closed. */
export function keptState(): PanelState {
  return readPanelState(api.getState());
}

export function keep(change: Partial<PanelState>): void {
  api.setState({ ...keptState(), ...change });
}
