import * as vscode from 'vscode';
import { newNonce, panelHtml } from './panelHtml.js';

/** Loads the page that all panels share; it speaks first, with `ready`. */
export function preparePage(panel: vscode.WebviewPanel, extension: vscode.Uri): void {
  const { webview } = panel;
  const file = (name: string): vscode.Uri => vscode.Uri.joinPath(extension, name);
  webview.options = { enableScripts: true, localResourceRoots: ['dist', 'media'].map(file) };
  panel.iconPath = { light: file('media/curves-light.svg'), dark: file('media/curves-dark.svg') };
  webview.html = panelHtml({
    cspSource: webview.cspSource,
    script: String(webview.asWebviewUri(file('dist/webview.js'))),
    styles: String(webview.asWebviewUri(file('media/preview.css'))),
    nonce: newNonce(),
  });
}
