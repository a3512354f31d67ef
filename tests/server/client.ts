/** A client of the built server, in a process of its own, by the libraries that editors use. */
import { spawn, spawnSync, type ChildProcessWithoutNullStreams } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, realpathSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import {
  ConfigurationRequest,
  createProtocolConnection,
  DidChangeTextDocumentNotification,
  DidCloseTextDocumentNotification,
  DidOpenTextDocumentNotification,
  ExitNotification,
  InitializedNotification,
  InitializeRequest,
  InlayHintRefreshRequest,
  PublishDiagnosticsNotification,
  RegistrationRequest,
  ShutdownRequest,
  StreamMessageReader,
  StreamMessageWriter,
  type ClientCapabilities,
  type Diagnostic,
  type InitializeParams,
  type InitializeResult,
  type Position,
  type ProtocolConnection,
  type Range,
  type Registration,
  type TextEdit,
} from 'vscode-languageserver-protocol/node';
import { TextDocument } from 'vscode-languageserver-textdocument';

const project = fileURLToPath(new URL('../..', import.meta.url));

/** A folder of its own with the built program beside the demo. */
export function buildBesideDemo(): { folder: string; program: string; remove: () => void } {
  const made = realpathSync(mkdtempSync(path.join(tmpdir(), 'sweepbook-server-')));
  const build = ['esbuild.mjs', '--only', 'cli', '--quiet', '--into', made];
  const { status, stderr } = spawnSync(process.execPath, build, { cwd: project, encoding: 'utf8' });
  if (status !== 0) throw new Error(stderr);
  const folder = path.join(made, 'roof');
  cpSync(path.join(project, 'examples/harrow-fen'), folder, { recursive: true });
  const remove = (): void => rmSync(made, { recursive: true, force: true });
  return { folder, program: path.join(made, 'cli.mjs'), remove };
}

/** What the usual editors can do. */
export const capable: ClientCapabilities = {
  textDocument: {
    completion: { completionItem: { snippetSupport: true, documentationFormat: ['markdown'] } },
    hover: { contentFormat: ['markdown', 'plaintext'] },
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
    signatureHelp: { signatureInformation: { parameterInformation: { labelOffsetSupport: true } } },
    codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: ['quickfix', 'source'] } } },
    rename: { prepareSupport: true },
    publishDiagnostics: { relatedInformation: true, versionSupport: true },
  },
  workspace: {
    didChangeWatchedFiles: { dynamicRegistration: true },
    configuration: true,
    workspaceFolders: true,
    inlayHint: { refreshSupport: true },
  },
};

export interface ClientOptions {
  readonly program: string;
  /** The one workspace folder; none for a file opened on its own. */
  readonly folder?: string;
  readonly capabilities?: ClientCapabilities;
  readonly settings?: Readonly<Record<string, unknown>>;
  /** Of the Node that runs the server. */
  readonly nodeOptions?: readonly string[];
}

export class Client {
  readonly connection: ProtocolConnection;
  readonly registrations: Registration[] = [];
  readonly ended: Promise<number | null>;
  initialized!: InitializeResult;
  readonly #child: ChildProcessWithoutNullStreams;
  readonly #said = new Map<string, Diagnostic[]>();
  readonly #waiting = new Set<() => void>();
  readonly #texts = new Map<string, TextDocument>();
  readonly #output: Buffer[] = [];
  #complaints = '';

  constructor(program: string, settings: unknown = null, nodeOptions: readonly string[] = []) {
    const serve = [...nodeOptions, program, 'serve', '--stdio'];
    this.#child = spawn(process.execPath, serve, { cwd: path.dirname(program) });
    this.ended = new Promise((resolve) => this.#child.once('exit', (status) => resolve(status)));
    this.#child.stdout.on('data', (piece: Buffer) => this.#output.push(piece));
    this.#child.stderr.on('data', (piece: Buffer) => (this.#complaints += piece.toString()));
    this.connection = createProtocolConnection(
      new StreamMessageReader(this.#child.stdout),
      new StreamMessageWriter(this.#child.stdin),
    );
    this.connection.onNotification(PublishDiagnosticsNotification.type, ({ uri, diagnostics }) => {
      this.#said.set(uri, diagnostics);
      for (const look of this.#waiting) look();
    });
    this.connection.onRequest(RegistrationRequest.type, ({ registrations }) => {
      this.registrations.push(...registrations);
    });
    this.connection.onRequest(ConfigurationRequest.type, ({ items }) => items.map(() => settings));
    this.connection.onRequest(InlayHintRefreshRequest.type, () => {});
    this.connection.onError(() => {});
    this.connection.listen();
  }

  static async start(options: ClientOptions): Promise<Client> {
    const { program, folder, capabilities = capable, settings, nodeOptions } = options;
    const client = new Client(program, settings ?? null, nodeOptions);
    const uri = folder === undefined ? null : uriOf(folder);
    const params: InitializeParams = {
      processId: process.pid,
      rootUri: uri,
      workspaceFolders: uri === null ? null : [{ uri, name: 'roof' }],
      capabilities,
    };
    client.initialized = await client.connection.sendRequest(InitializeRequest.type, params);
    await client.connection.sendNotification(InitializedNotification.type, {});
    return client;
  }

  get pid(): number {
    return this.#child.pid!;
  }

  /** What went to the standard error. */
  get complaints(): string {
    return this.#complaints;
  }

  /** Opens a file with what the disk holds, or with another text. */
  open(file: string, text = readFileSync(file, 'utf8')): Promise<string> {
    return this.openUnsaved(uriOf(file), text);
  }

  /** Opens a text that need not be a file. */
  async openUnsaved(uri: string, text: string): Promise<string> {
    this.#texts.set(uri, TextDocument.create(uri, 'sweepbook', 1, text));
    const textDocument = { uri, languageId: 'sweepbook', version: 1, text };
    await this.connection.sendNotification(DidOpenTextDocumentNotification.type, { textDocument });
    return uri;
  }

  async close(uri: string): Promise<void> {
    await this.connection.sendNotification(DidCloseTextDocumentNotification.type, { textDocument: { uri } });
  }

  /** Replaces the first place of `from`. */
  replace(uri: string, from: string, to: string): Promise<void> {
    return this.apply(uri, [{ range: this.rangeOf(uri, from), newText: to }]);
  }

  /** Only the changes are sent, the last one of the text first, so that each finds its place. */
  async apply(uri: string, edits: readonly TextEdit[]): Promise<void> {
    const text = this.#texts.get(uri)!;
    const version = text.version + 1;
    const contentChanges = [...edits]
      .sort((a, b) => text.offsetAt(b.range.start) - text.offsetAt(a.range.start))
      .map(({ range, newText }) => ({ range, text: newText }));
    this.#texts.set(uri, TextDocument.update(text, contentChanges, version));
    await this.connection.sendNotification(DidChangeTextDocumentNotification.type, {
      textDocument: { uri, version },
      contentChanges,
    });
  }

  textOf(uri: string): string {
    return this.#texts.get(uri)!.getText();
  }

  /** The text with edits applied as the protocol says. */
  edited(uri: string, edits: TextEdit[] | null | undefined): string {
    return TextDocument.applyEdits(this.#texts.get(uri)!, edits ?? []);
  }

  rangeOf(uri: string, part: string): Range {
    const text = this.#texts.get(uri)!;
    const at = text.getText().indexOf(part);
    if (at < 0) throw new Error(`The text does not hold: ${part}`);
    return { start: text.positionAt(at), end: text.positionAt(at + part.length) };
  }

  /** The place `into` characters behind the start of the first place of `part`. */
  at(uri: string, part: string, into = 0): { textDocument: { uri: string }; position: Position } {
    const { start } = this.rangeOf(uri, part);
    return { textDocument: { uri }, position: { ...start, character: start.character + into } };
  }

  /** The latest diagnostics of a file, once they are as wanted. */
  said(uri: string, wanted: (ids: readonly unknown[]) => boolean): Promise<Diagnostic[]> {
    return new Promise((resolve) => {
      const look = (): void => {
        const said = this.#said.get(uri);
        if (!said || !wanted(said.map(({ code }) => code))) return;
        this.#waiting.delete(look);
        resolve(said);
      };
      this.#waiting.add(look);
      look();
    });
  }

  async end(): Promise<number | null> {
    await this.connection.sendRequest(ShutdownRequest.type);
    await this.connection.sendNotification(ExitNotification.type);
    return this.ended;
  }

  /** Lets the server see the end of its input, without a word. */
  hangUp(): void {
    this.#child.stdin.end();
  }

  kill(): void {
    if (this.#child.exitCode === null) this.#child.kill();
  }

  /** Everything on the standard output that is no message of the protocol. */
  strayOutput(): string {
    let rest = Buffer.concat(this.#output);
    for (;;) {
      const head = /^((?:[\w-]+: [^\r\n]*\r\n)+)\r\n/.exec(rest.toString('latin1', 0, longestHead));
      const length = head && /Content-Length: (\d+)/i.exec(head[1]!);
      if (!head || !length) return rest.toString();
      rest = rest.subarray(head[0].length + Number(length[1]));
    }
  }
}

/** Bytes before a message that say what it is. */
const longestHead = 1_000;

export const uriOf = (file: string): string => pathToFileURL(file).href;
