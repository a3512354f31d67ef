import path from 'node:path';
import { isMainThread, parentPort, Worker } from 'node:worker_threads';

if (isMainThread) await beProgram();
else (await import('./campaignWorker.js')).serveJobs(parentPort!);

async function beProgram(): Promise<void> {
  // A reader that closes early, such as `head`, is no failure of ours.
  for (const stream of [process.stdout, process.stderr]) {
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code !== 'EPIPE') throw error;
    });
  }
  const { run } = await import('./run.js');
  process.exitCode = await run(process.argv.slice(2), {
    out: (text) => process.stdout.write(text),
    error: (text) => process.stderr.write(text),
    isTerminal: process.stdout.isTTY === true,
    ...(process.stderr.isTTY && { errorTerminal: { columns: () => process.stderr.columns || 80 } }),
    environment: process.env,
    workingFolder: process.cwd(),
    interruption,
    threads: { start: () => new Worker(new URL(import.meta.url)) },
    userCacheFolder,
  });
}

function interruption(): AbortSignal {
  const controller = new AbortController();
  for (const signal of ['SIGINT', 'SIGTERM'] as const)
    process.once(signal, () => {
      controller.abort(signal);
    });
  return controller.signal;
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
