import { describe, expect, it } from 'vitest';
import { Workbook } from '../../src/evaluation/workbook.js';
import { inMemory, MemoryFiles } from './memoryFiles.js';

const bytesOf = (make: (at: number) => number, length = 20_000) =>
  Uint8Array.from({ length }, (_, at) => make(at));

async function problemsOf(files: Readonly<Record<string, string | Uint8Array>>) {
  const { problems } = await new Workbook(new MemoryFiles(files)).evaluate(inMemory('c.sweepbook'));
  return problems.map(({ id, severity }) => `${severity} ${id}`);
}

describe('a file that is no text', () => {
  it.each([
    ['zero bytes among letters', bytesOf((at) => (at % 7 === 0 ? 0 : 65 + (at % 26)))],
    ['bytes of every value', bytesOf((at) => (at * 7919 + (at >> 3)) & 0xff)],
    ['bytes without zeros', bytesOf((at) => 1 + ((at * 7919 + (at >> 3)) % 255))],
    ['a picture', bytesOf((at) => [0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10][at] ?? (at * 31) & 0xff)],
  ])('gives one error: %s', async (_, bytes) => {
    expect(await problemsOf({ 'c.sweepbook': bytes })).toEqual(['error file/unreadable']);
  });

  it('gives one error at the include that names it, and the rest is read', async () => {
    const files = {
      'c.sweepbook': 'include "x.sweepbook"\nsite s\n  elevation 12 V\n',
      'x.sweepbook': bytesOf(() => 0),
    };
    expect((await problemsOf(files)).filter((each) => each.startsWith('error'))).toEqual([
      'error include/unreadable',
      'error unit/wrong-dimension',
    ]);
  });

  it('is the same in an editor, and costs a line where one character strayed into a text', async () => {
    const workbook = new Workbook(new MemoryFiles({ 'c.sweepbook': '' }));
    const after = async (text: string) => {
      workbook.setText(inMemory('c.sweepbook'), text);
      const { problems } = await workbook.evaluate(inMemory('c.sweepbook'));
      return problems.map(({ id }) => id);
    };
    expect(await after('\u0000ab'.repeat(500))).toEqual(['file/unreadable']);
    const text = `# ${'x'.repeat(200)}\nsite s\n  elevation \u0000 12 V\n  timezone Europe/Londn\n`;
    const stray = await after(text);
    expect(stray).not.toContain('file/unreadable');
    expect(stray).toContain('site/unknown-timezone');
    expect(await problemsOf({ 'c.sweepbook': text })).toHaveLength(stray.length);
  });

  it('is not what a text in another encoding, with tabs or with a stray control character is', async () => {
    const latin = Uint8Array.from('note "20 °C ± 1 K, Prüfung"\n', (letter) => letter.charCodeAt(0));
    expect(await problemsOf({ 'c.sweepbook': latin })).toEqual(['warning file/not-utf-8']);
    expect(await problemsOf({ 'c.sweepbook': `note\t"${'x'.repeat(200)}\u000c"\r\n` })).toEqual([]);
  });
});
