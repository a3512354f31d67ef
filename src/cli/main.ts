import { run } from './run.js';

// A reader that closes early, such as `head`, is no failure of ours.
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
  });
}

process.exitCode = await run(process.argv.slice(2), {
  out: (text) => process.stdout.write(text),
  error: (text) => process.stderr.write(text),
  isTerminal: process.stdout.isTTY === true,
  environment: process.env,
  workingFolder: process.cwd(),
});
