import { threadsBesideProgram } from './analysts.js';
import { programVersion } from './programVersion.js';
import { nodeDisk } from './nodeDisk.js';
import type { Io } from './io.js';

/**
 * Speaks the Language Server Protocol over the standard streams until the client ends it; the process ends with 0 when
 * the client said `shutdown` before, else with 1. The server is loaded only now, so that no other command pays for it.
 */
export async function serve({ workingFolder, error }: Io): Promise<never> {
  // Nothing but the protocol may go to the standard output, whatever a library says.
  globalThis.console = new console.Console(process.stderr);
  process.on('unhandledRejection', (reason) => {
    error(`${reason instanceof Error ? reason.stack : String(reason)}\n`);
  });
  const { startServer } = await import('../server/server.js');
  const disk = nodeDisk(workingFolder);
  const threads = threadsBesideProgram({ restAfter: 30_000 });
  startServer({ input: process.stdin, output: process.stdout, disk, version: programVersion, threads });
  return new Promise(() => {});
}
