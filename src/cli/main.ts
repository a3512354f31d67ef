import path from 'node:path';
import { isMainThread, parentPort, Worker } from 'node:worker_threads';
import { stoppedStatus } from './stoppedStatus.js';

if (isMainThread) await beProgram();
else (await import('./campaignWorker.js')).serveJobs(parentPort!);

async function beProgram(): Promise<void> {
  for (const stream of [process.stdout, process.stderr])
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (!isReaderGone(error)) throw error;
    });
  const stopped = new AbortController();
  let isHeeded = false;
  /** A reader that has enough, such as `head`, is no failure; nobody hears what is computed from now on. */
  const readerGone = (): void => {
    process.exitCode = stoppedStatus.SIGPIPE;
    if (isHeeded) stopped.abort('SIGPIPE');
    else process.exit();
  };
  const { run } = await import('./run.js');
  const status = await run(process.argv.slice(2), {
    out: (text) => process.stdout.write(text, (error) => isReaderGone(error) && readerGone()),
    error: (text) => process.stderr.write(text),
    isTerminal: process.stdout.isTTY === true,
    ...(process.stderr.isTTY && { errorTerminal: { columns: () => process.stderr.columns || 80 } }),
    environment: process.env,
    workingFolder: process.cwd(),
    interruption: () => {
      isHeeded = true;
      for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => stopped.abort(signal));
      return stopped.signal;
    },
    threads: { start: () => new Worker(new URL(import.meta.url)) },
    userCacheFolder,
  });
  process.exitCode ??= status;
  // What is still under way, such as reading files, is not waited for; what was printed is.
  if (stopped.signal.aborted) process.stdout.write('', () => process.exit());
}

function isReaderGone(error: NodeJS.ErrnoException | null | undefined): boolean {
  return error?.code === 'EPIPE';
}

async function userCacheFolder(): Promise<string | undefined> {
  try {
    // It asks for the home folder while it is loaded, and in a container there may be none.
    const { default: envPaths } = await import('env-paths');
    const { cache } = envPaths('sweepbook', { suffix: '' });
    // "All paths must be absolute; a relative one is to be ignored": XDG Base Directory Specification.
    return path.isAbsolute(cache) ? cache : undefined;
  } catch {
    return undefined;
  }
}
