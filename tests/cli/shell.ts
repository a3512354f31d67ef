import { run } from '../../src/cli/run.js';

/** Calls the program as a shell would, in a working folder. */
export async function shell(
  workingFolder: string,
  ...args: string[]
): Promise<{ status: number; out: string; error: string }> {
  let out = '';
  let error = '';
  const status = await run(args, {
    out: (text) => void (out += text),
    error: (text) => void (error += text),
    isTerminal: false,
    environment: {},
    workingFolder,
  });
  return { status, out, error };
}
