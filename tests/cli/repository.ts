/** A git repository of its own for a test, driven by the real program. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { folderOf } from './runInFolder.js';

/** Nothing of the machine's own settings, and always the same names and times. */
const environment = {
  ...process.env,
  GIT_CONFIG_GLOBAL: '/dev/null',
  GIT_CONFIG_NOSYSTEM: '1',
  GIT_AUTHOR_NAME: 'A',
  GIT_AUTHOR_EMAIL: 'a@example.org',
  GIT_COMMITTER_NAME: 'A',
  GIT_COMMITTER_EMAIL: 'a@example.org',
  GIT_PAGER: 'cat',
};

export class Repository {
  readonly folder: string;

  /** @param folder a new one for the test that runs, where none is given */
  constructor(files: Readonly<Record<string, string>>, folder = realpathSync(folderOf())) {
    this.folder = folder;
    this.git('init', '-q', '-b', 'main');
    this.commit('First', files);
  }

  /** What git answers; a status other than 0 is only allowed where `allowed` says so. */
  git(...args: readonly string[]): string {
    return execFileSync('git', args, { cwd: this.folder, encoding: 'utf8', env: environment, stdio: 'pipe' });
  }

  tryGit(...args: readonly string[]): string {
    try {
      return this.git(...args);
    } catch (error) {
      return String((error as { stdout: string }).stdout);
    }
  }

  write(files: Readonly<Record<string, string>>): void {
    for (const [name, text] of Object.entries(files)) {
      const file = path.join(this.folder, name);
      mkdirSync(path.dirname(file), { recursive: true });
      writeFileSync(file, text);
    }
  }

  remove(name: string): void {
    rmSync(path.join(this.folder, name), { recursive: true });
  }

  commit(message: string, files: Readonly<Record<string, string>> = {}): string {
    this.write(files);
    this.git('add', '-A');
    this.git('commit', '-q', '-m', message);
    return this.git('rev-parse', 'HEAD').trim();
  }
}
