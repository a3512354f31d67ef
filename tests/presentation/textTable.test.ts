import { describe, expect, it } from 'vitest';
import { displayWidth, printable } from '../../src/presentation/terminalText.js';
import { problemLines, sweepTable } from '../../src/presentation/textTable.js';
import { display, empty, evaluation } from './fixture.js';
import { expectGolden } from './goldenFile.js';

const escape = String.fromCharCode(27);

describe('the terminal text', () => {
  it('lists sweeps, reasons, counts and what to do next', () => {
    expectGolden(
      'check.txt',
      sweepTable(evaluation, { display }) + '\n' + problemLines(evaluation, { display }),
    );
  });

  it('keeps to ASCII where asked', () => {
    const text =
      sweepTable(evaluation, { display, ascii: true }) + problemLines(evaluation, { display, ascii: true });
    expect(text).toMatch(/^[\x20-\x7e\n]*$/);
  });

  it('aligns the columns', () => {
    const rows = sweepTable(evaluation, { display })
      .split('\n')
      .slice(3, 3 + evaluation.sweeps.length);
    const columnsOfUnit = rows.map((row) => row.indexOf(' W/m2'));
    expect(new Set(columnsOfUnit).size).toBe(1);
  });

  it('differs by colours alone when painted', () => {
    const paint = (text: string) => `${escape}[31m${text}${escape}[0m`;
    const plain = sweepTable(evaluation, { display, paint })
      .replaceAll(`${escape}[31m`, '')
      .replaceAll(`${escape}[0m`, '');
    expect(plain).toBe(sweepTable(evaluation, { display }));
  });

  it('says that there is nothing', () => {
    expect(sweepTable(empty, { display })).toContain('No sweeps');
    expect(problemLines(empty, { display })).toBe('');
  });

  it('passes no terminal command on', () => {
    const title = `fen${escape}]0;owned\u0007`;
    const campaign = evaluation.campaign.campaign!;
    const hostile = {
      ...evaluation,
      campaign: { ...evaluation.campaign, campaign: { ...campaign, record: { ...campaign.record, title } } },
      problems: [{ ...evaluation.problems[0]!, message: `a${escape}[2Jb\nc` }],
    };
    expect(sweepTable(hostile, { display })).not.toContain(escape);
    expect(problemLines(hostile, { display })).not.toContain(escape);
    expect(problemLines(hostile, { display }).trimEnd().split('\n')).toHaveLength(1);
  });
});

it('measures width as a terminal draws it', () => {
  expect(displayWidth('1.03')).toBe(4);
  expect(displayWidth('屋根')).toBe(4);
  expect(displayWidth('e\u0301')).toBe(1);
  expect(printable('a\u202eb')).toBe('a\ufffdb');
});
