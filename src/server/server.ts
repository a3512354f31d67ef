/**
 * The language server: the language functions of the project, told over the Language Server Protocol. It knows the
 * files of its machine only through `Disk`.
 */
import {
  createConnection,
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  FileChangeType,
  type InitializeParams,
  type WorkspaceFolder,
} from 'vscode-languageserver/node';
import type { ThreadHost } from '../evaluation/ports.js';
import type { DiskChange } from '../workspace/keptCampaigns.js';
import { abilitiesOf, serverCapabilities } from './abilities.js';
import type { Disk } from './disk.js';
import { serveCodeActions } from './features/codeActions.js';
import { serveNames } from './features/names.js';
import { serveReading } from './features/reading.js';
import { serveStructure } from './features/structure.js';
import { serveWriting } from './features/writing.js';
import { keyOf, pathOf } from './fileKeys.js';
import { Session } from './session.js';
import { sectionOf } from './settings.js';

export interface ServerOptions {
  readonly input: NodeJS.ReadableStream;
  readonly output: NodeJS.WritableStream;
  readonly disk: Disk;
  readonly version: string;
  /** For analysts. */
  readonly threads?: ThreadHost | undefined;
}

/** Milliseconds that the first result waits for the campaign files of a large folder. */
const longestSearch = 1500;

/** Serves until the client says `exit` or its end of the stream closes; the process then ends, with 0 after `shutdown`. */
export function startServer({ input, output, disk, version, threads }: ServerOptions): void {
  const connection = createConnection(input, output);
  connection.onInitialize((params) => {
    const session = new Session(connection, disk, abilitiesOf(params.capabilities), threads);
    session.useSettings(sectionOf(params.initializationOptions));
    listenToFolders(session, foldersOf(params));
    for (const serve of [serveReading, serveWriting, serveNames, serveStructure, serveCodeActions])
      serve(session);
    listenToWorkspace(session);
    connection.onInitialized(() => void askClient(session));
    connection.onShutdown(() => session.end());
    return { capabilities: serverCapabilities, serverInfo: { name: 'sweepbook', version } };
  });
  connection.listen();
}

/** Older clients know one folder only. */
function foldersOf({ workspaceFolders, rootUri }: InitializeParams): readonly WorkspaceFolder[] {
  return workspaceFolders ?? (rootUri ? [{ uri: rootUri, name: '' }] : []);
}

/** Resolves when the campaign files are known, or when that takes too long; they are then taken over later. */
async function findCampaigns({ files, kept }: Session): Promise<void> {
  const search = files.campaigns().then((found) => kept.found(found));
  await Promise.race([search, new Promise((resolve) => setTimeout(resolve, longestSearch))]);
}

const changes: Readonly<Record<FileChangeType, DiskChange>> = {
  [FileChangeType.Created]: 'created',
  [FileChangeType.Changed]: 'changed',
  [FileChangeType.Deleted]: 'deleted',
};

function listenToWorkspace(session: Session): void {
  const { connection, kept, abilities } = session;
  connection.onDidChangeWatchedFiles(({ changes: told }) => {
    for (const { uri, type } of told) kept.onDisk(keyOf(uri), changes[type]);
  });
  connection.onDidChangeConfiguration(({ settings }) => {
    const given: unknown = sectionOf(settings);
    if (given !== null && given !== undefined) session.useSettings(given);
    else if (abilities.answersConfiguration) void pullSettings(session);
  });
}

/** Folders come and go while the client runs. */
function listenToFolders(session: Session, first: readonly WorkspaceFolder[]): void {
  const { connection, files, kept, abilities } = session;
  const folders = new Set(first.map(({ uri }) => uri));
  const use = (): void => {
    files.setFolders([...folders].flatMap((uri) => pathOf(uri) ?? []));
    kept.waitFor(findCampaigns(session));
  };
  use();
  if (!abilities.changesFolders) return;
  connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
    for (const { uri } of removed) folders.delete(uri);
    for (const { uri } of added) folders.add(uri);
    use();
    kept.evaluateAll();
  });
}

/** What a server may ask for only after it was told that the client is ready. */
async function askClient(session: Session): Promise<void> {
  const { connection, abilities } = session;
  if (abilities.watchesFiles)
    await connection.client.register(DidChangeWatchedFilesNotification.type, {
      watchers: [{ globPattern: '**/*' }],
    });
  if (abilities.tellsConfiguration)
    await connection.client.register(DidChangeConfigurationNotification.type, { section: 'sweepbook' });
  if (abilities.answersConfiguration) await pullSettings(session);
}

async function pullSettings(session: Session): Promise<void> {
  const given: unknown = await session.connection.workspace.getConfiguration('sweepbook');
  if (given !== null && given !== undefined) session.useSettings(given);
}
