/** Between the editor's types and those of the core. A file's key in the core is its URI as text. */
import * as vscode from 'vscode';
import type { Place, Position, Range } from '../text/place.js';

export const languageId = 'sweepbook';

export const keyOf = (uri: vscode.Uri): string => uri.toString();
export const uriOf = (file: string): vscode.Uri => vscode.Uri.parse(file, true);

export function toPosition(position: Position): vscode.Position {
  return new vscode.Position(position.line, position.character);
}

export function toRange(range: Range): vscode.Range {
  return new vscode.Range(toPosition(range.start), toPosition(range.end));
}

export function toLocation(place: Place): vscode.Location {
  return new vscode.Location(uriOf(place.file), toRange(place.range));
}

/** Text that carries no command, no HTML and no trust. */
export function toMarkdown(text: string): vscode.MarkdownString {
  const markdown = new vscode.MarkdownString(text);
  markdown.isTrusted = false;
  markdown.supportHtml = false;
  return markdown;
}

/** A campaign file as the user has it open; not the older version that a comparison shows beside it. */
export function isCampaignDocument(document: vscode.TextDocument): boolean {
  return document.languageId === languageId && !document.isClosed && document.uri.scheme !== 'git';
}
