/**
 * `npm run demo`: builds the command line, checks the demo campaign in the terminal, and writes its report as page and PDF.
 * One string of the demo fails, its module is replaced, and its counter-check passes, so `check` answers 0.
 */
import { spawnSync } from 'node:child_process';

const campaign = 'examples/harrow-fen/campaign.sweepbook';
const page = 'dist/harrow-fen.html';
const pdf = 'dist/harrow-fen.pdf';

function run(...args) {
  console.log(`$ ${['node', ...args].join(' ')}\n`);
  const { status } = spawnSync(process.execPath, args, { stdio: 'inherit' });
  console.log();
  return status;
}

if (run('esbuild.mjs', '--only', 'cli', '--quiet') !== 0) process.exit(1);
const answers = [
  run('dist/cli.mjs', 'check', campaign),
  run('dist/cli.mjs', 'report', campaign, '--out', page),
  run('dist/cli.mjs', 'report', campaign, '--out', pdf),
];
process.exit(answers.every((status) => status === 0) ? 0 : 1);
