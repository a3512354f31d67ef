/** What the server knows between two messages: open texts, settings, the campaigns kept computed. */
import { ErrorCodes, ResponseError, TextDocuments, type Connection } from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { Evaluation } from '../evaluation/evaluation.js';
import type { ThreadHost } from '../evaluation/ports.js';
import type { OpenFile } from '../presentation/editorTypes.js';
import { unusedNames } from '../presentation/unusedNames.js';
import { verdictProblems } from '../presentation/verdictProblems.js';
import type { Document } from '../syntax/document.js';
import { KeptCampaigns } from '../workspace/keptCampaigns.js';
import { ProblemsByFile } from '../workspace/problemsByFile.js';
import type { ClientAbilities } from './abilities.js';
import type { Disk } from './disk.js';
import { toDiagnostic, unusedDiagnostic } from './diagnostics.js';
import { keyOf } from './fileKeys.js';
import { ServerFiles } from './serverFiles.js';
import { readSettings, type Settings } from './settings.js';

/** An open text and its key in the core. */
export interface OpenText {
  readonly file: string;
  readonly text: TextDocument;
}

export class Session {
  readonly connection: Connection;
  readonly files: ServerFiles;
  readonly kept: KeptCampaigns;
  readonly abilities: ClientAbilities;
  settings: Settings = readSettings(undefined);
  readonly #texts = new TextDocuments(TextDocument);
  readonly #open = new Map<string, TextDocument>();
  readonly #said = new ProblemsByFile();
  #hasEnded = false;

  constructor(connection: Connection, disk: Disk, abilities: ClientAbilities, threads?: ThreadHost) {
    this.connection = connection;
    this.abilities = abilities;
    this.files = new ServerFiles(disk, (file) => this.#open.get(file)?.getText());
    this.kept = new KeptCampaigns({
      files: this.files,
      threads,
      delay: () => this.settings.delay,
      evaluated: (evaluation) => this.#publish(evaluation),
      dropped: (root) => this.#say(this.#said.replace(root, undefined)),
    });
    this.#texts.onDidChangeContent(({ document }) => this.#edited(document));
    this.#texts.onDidClose(({ document }) => this.#closed(document));
    this.#texts.onDidSave(() => {
      if (!abilities.watchesFiles) this.kept.tablesMayHaveChanged();
    });
    this.#texts.listen(connection);
  }

  /** The client said `shutdown`: what it asks from now on is refused, as the protocol wants. */
  end(): void {
    this.#hasEnded = true;
    this.kept.dispose();
  }

  /** The open text of a request; undefined for one that the client never opened. */
  openText({ uri }: { readonly uri: string }): OpenText | undefined {
    if (this.#hasEnded) throw new ResponseError(ErrorCodes.InvalidRequest, 'The server was shut down.');
    const file = keyOf(uri);
    const text = this.#open.get(file);
    return text && { file, text };
  }

  documentOf({ file, text }: OpenText): Document {
    return this.kept.documentOf(file, text.getText());
  }

  /** A text as the presentation asks for it. */
  openFile({ file, text }: OpenText): OpenFile {
    return {
      file,
      lineAt: (line) => lineOf(text, line),
      resolve: (relative) => this.files.resolve(file, relative),
    };
  }

  /** The URI of a file as the client wrote it, where it has the file open. */
  uriOf(file: string): string {
    return this.#open.get(file)?.uri ?? file;
  }

  /** Takes over new settings; results show them at once. */
  useSettings(given: unknown): void {
    this.settings = readSettings(given);
    this.kept.evaluateAll();
  }

  #edited(text: TextDocument): void {
    const file = keyOf(text.uri);
    this.#open.set(file, text);
    if (isCampaign(text)) this.kept.edited(file, text.getText());
    else this.kept.onDisk(file, 'changed');
  }

  #closed({ uri }: TextDocument): void {
    const file = keyOf(uri);
    this.#open.delete(file);
    this.kept.closed(file);
  }

  #publish(evaluation: Evaluation): void {
    const { verdictsAsProblems, fadeUnusedNames } = this.settings;
    const verdicts = verdictsAsProblems === 'none' ? [] : verdictProblems(evaluation, verdictsAsProblems);
    const unused = fadeUnusedNames ? unusedNames(evaluation) : [];
    this.#say(this.#said.replace(evaluation.root, [...evaluation.problems, ...verdicts], unused));
    if (this.abilities.refreshesHints) void this.connection.languages.inlayHint.refresh();
  }

  #say(files: Iterable<string>): void {
    for (const file of files) {
      const diagnostics = [
        ...this.#said.problemsOf(file).map((problem) => toDiagnostic(problem, this)),
        ...this.#said.unusedOf(file).map(unusedDiagnostic),
      ];
      // An edit ends the run that it overtakes, so what comes out is of the version that is open.
      const { uri = file, version } = this.#open.get(file) ?? {};
      void this.connection.sendDiagnostics({ uri, version, diagnostics });
    }
  }
}

/** Some clients know no language of this name and give another. */
const isCampaign = ({ languageId, uri }: TextDocument): boolean =>
  languageId === 'sweepbook' || uri.endsWith('.sweepbook');

/** Without its end; empty beyond the text. */
function lineOf(text: TextDocument, line: number): string {
  if (line < 0 || line >= text.lineCount) return '';
  const range = { start: { line, character: 0 }, end: { line: line + 1, character: 0 } };
  return text.getText(range).replace(/[\r\n]+$/, '');
}
