/** Files of a commit as git would check them out: real git, with filters of its own. The texts are invented. */
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { GitFiles } from '../../src/cli/gitFiles.js';
import { Repository } from './repository.js';

const limit = 1000;

async function reading(
  own: Repository,
): Promise<(name: string, limitBytes?: number) => Promise<string | undefined>> {
  const files = await GitFiles.ofCommit(own.folder, own.git('rev-parse', 'HEAD').trim());
  return async (name, limitBytes = limit) => {
    const content = await files.read(path.join(own.folder, name), limitBytes);
    return content.ok ? new TextDecoder().decode(content.bytes) : content.reason;
  };
}

describe('a file of a commit', () => {
  it('is read with the filters and line ends of the working tree', async () => {
    const own = new Repository({
      'kept.csv': 'a,b\n',
      '.gitattributes': '*.turned filter=turned\n*.crlf text eol=crlf\n',
    });
    own.git('config', 'filter.turned.clean', 'tr a-z A-Z');
    own.git('config', 'filter.turned.smudge', 'tr A-Z a-z; echo more');
    own.commit('Filtered', { 'a b.turned': 'one\n', 'lines.crlf': '1\r\n2\r\n', 'empty.csv': '' });
    expect(own.git('cat-file', 'blob', 'HEAD:a b.turned')).toBe('ONE\n');
    const read = await reading(own);
    const names = ['a b.turned', 'lines.crlf', 'empty.csv', 'kept.csv', 'gone.csv'];
    expect(await Promise.all(names.map((name) => read(name)))).toEqual([
      'one\nmore\n',
      '1\r\n2\r\n',
      '',
      'a,b\n',
      'missing',
    ]);
  });

  it('that is too large, before or behind a filter, and one whose filter fails, leave the others readable', async () => {
    const own = new Repository({
      'large.csv': '1,2\n'.repeat(100_000),
      'small.csv': '1,2\n',
      'grown.grown': 'x\n',
      'broken.broken': 'x\n',
      'line\nend.csv': '1,2\n',
    });
    own.write({ '.gitattributes': '*.grown filter=grown\n*.broken filter=broken\n' });
    own.git('config', 'filter.grown.smudge', 'yes | head -c 300000');
    own.git('config', 'filter.broken.smudge', 'false');
    own.git('config', 'filter.broken.required', 'true');
    const read = await reading(own);
    const names = [
      'large.csv',
      'small.csv',
      'grown.grown',
      'small.csv',
      'broken.broken',
      'line\nend.csv',
      'small.csv',
    ];
    const answers = await Promise.all(names.map((name) => read(name)));
    expect(answers).toEqual([
      'too-large',
      '1,2\n',
      'too-large',
      '1,2\n',
      'unreadable',
      'unreadable',
      '1,2\n',
    ]);
    expect(await read('large.csv', 1_000_000)).toHaveLength(400_000);
    expect(await read('small.csv', 4)).toBe('1,2\n');
    expect(await read('small.csv', 3)).toBe('too-large');
  });
});
