/** The program as it is shipped: one file, in a process of its own. */
import { execFile, spawn, spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import { describe, expect, it, onTestFinished } from 'vitest';
import { builtProgram, project } from './builtProgram.js';

const example = path.join(project, 'examples/harrow-fen/campaign.sweepbook');
const built = builtProgram();

const call = (...args: string[]) =>
  spawnSync(process.execPath, [built.program, ...args], {
    cwd: built.folder,
    encoding: 'utf8',
    timeout: 120_000,
  });

describe('the built program', () => {
  it('needs nothing beside it and answers to the shell', () => {
    const { status, stdout, stderr } = call('check', example);
    expect(stderr).toBe('');
    // Its only fault was mended: the case is verified.
    expect(status).toBe(0);
    expect(stdout).toMatch(/1\.03 .*fail/);
  });

  it('prints the schema that is published', () => {
    const { status, stdout } = call('schema');
    expect(status).toBe(0);
    expect(stdout).toBe(readFileSync(path.join(project, 'syntaxes/check-result.schema.json'), 'utf8'));
  });

  it('says a wrong call on stderr, with status 3', () => {
    const { status, stdout, stderr } = call('chek');
    expect([status, stdout]).toEqual([3, '']);
    expect(stderr).toContain('chek');
  });

  it('writes a page', () => {
    const page = path.join(built.folder, 'page.html');
    const { status } = call('report', example, '--out', page);
    expect(status).toBe(0);
    expect(readFileSync(page, 'utf8')).toMatch(/^<!doctype html>[^]*<svg[^]*<\/html>\s*$/i);
  });

  it.skipIf(process.platform === 'win32')(
    'says nothing of a reader that leaves early but by its status',
    async () => {
      const run = promisify(execFile);
      const shell = `set -o pipefail; "$0" "$1" check --format json "$2" 2>"$3" | head -c 1; echo " \${PIPESTATUS[0]}"`;
      const complaints = path.join(built.folder, 'complaints');
      const { stdout } = await run('bash', [
        '-c',
        shell,
        process.execPath,
        built.program,
        example,
        complaints,
      ]);
      expect(readFileSync(complaints, 'utf8')).toBe('');
      expect(stdout.trim()).toBe('{ 141');
    },
  );

  it('is not troubled by a closed stderr', async () => {
    const child = spawn(process.execPath, [built.program, 'check', 'gone'], {
      cwd: built.folder,
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    child.stderr.destroy();
    const status = await new Promise((resolve) => child.once('exit', resolve));
    expect(status).toBe(2);
  });
});

it('holds a commit back by the hook of the examples while results differ from the committed ones', () => {
  const repository = mkdtempSync(path.join(tmpdir(), 'sweepbook-hook-'));
  onTestFinished(() => rmSync(repository, { recursive: true, force: true }));
  const git = (...args: string[]) =>
    spawnSync('git', ['-c', 'user.name=n', '-c', 'user.email=n@example.org', ...args], {
      cwd: repository,
      encoding: 'utf8',
    });
  git('init', '--quiet');
  cpSync(path.join(project, 'examples/harrow-fen-sample'), path.join(repository, 'campaigns'), {
    recursive: true,
  });
  cpSync(built.program, path.join(repository, 'tools/sweepbook.mjs'));
  const write = () =>
    spawnSync(
      process.execPath,
      ['tools/sweepbook.mjs', 'check', 'campaigns', '--write-results', 'campaigns/results'],
      { cwd: repository },
    );
  write();
  git('add', '--all');
  expect(git('commit', '--quiet', '--message', 'first').status).toBe(0);
  cpSync(path.join(project, 'examples/ci/pre-commit'), path.join(repository, '.git/hooks/pre-commit'));
  const [file] = readdirSync(path.join(repository, 'campaigns')).filter((name) =>
    name.endsWith('.sweepbook'),
  );
  const campaign = path.join(repository, 'campaigns', file!);
  writeFileSync(campaign, readFileSync(campaign, 'utf8').replace(/gamma +-0\.35/, 'gamma -0.31'));
  git('add', '--all');
  const held = git('commit', '--message', 'gamma');
  expect(held.status).toBe(1);
  expect(held.stderr).toContain('Pmax');
  expect(held.stderr).toContain('--write-results campaigns/results');
  write();
  git('add', '--all');
  expect(git('commit', '--quiet', '--message', 'gamma and what it moves').status).toBe(0);
});
