/** What is offered, and what a property wants. */
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { blockKeywords, propertiesOf } from '../../src/campaign/keywords.js';
import { resolveCampaign } from '../../src/campaign/resolveCampaign.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { blockSnippets } from '../../src/presentation/blockSnippets.js';
import { completionNeeds, likenessTo } from '../../src/presentation/completionPaths.js';
import { completionsAt, type CompletionSupplies } from '../../src/presentation/completions.js';
import { signatureAt } from '../../src/presentation/signatureHelp.js';
import { withoutStops } from '../../src/presentation/snippetText.js';
import { tableColumns } from '../../src/presentation/tableColumns.js';
import { parseDocument } from '../../src/syntax/document.js';
import { evaluateMemory, openFile, root, rootText } from './memoryCampaign.js';

let evaluation: Evaluation;
beforeAll(async () => {
  evaluation = await evaluateMemory();
});

/** The text without its `|`, and where that stood. */
function marked(text: string) {
  const before = text.split('|')[0]!.split('\n');
  const position = { line: before.length - 1, character: before.at(-1)!.length };
  return { open: openFile(root, text.replace('|', '')), position };
}

function items(text: string, supplies?: CompletionSupplies) {
  const { open, position } = marked(text);
  return completionsAt(evaluation, open, position, supplies);
}
const labels = (text: string, supplies?: CompletionSupplies) =>
  items(text, supplies).map(({ label }) => label);

/** The text once the item is taken. */
function taken(text: string, label: string, supplies?: CompletionSupplies): string {
  const { open, position } = marked(text);
  const item = completionsAt(evaluation, open, position, supplies).find((each) => each.label === label)!;
  const line = open.lineAt(position.line);
  expect(item.range.start.character).toBeLessThanOrEqual(position.character);
  expect(item.range.end.character).toBeGreaterThanOrEqual(position.character);
  return line.slice(0, item.range.start.character) + item.insertText + line.slice(item.range.end.character);
}

const sweep = 'sweep 1.03 at 2026-05-14 11:42\n';

describe('completion', () => {
  it('offers what fits at each place of a value', () => {
    expect(labels(`${sweep}  irradiance 812 |`)).toEqual(['W/m2', 'kW/m2', 'mW/cm2']);
    expect(labels(`${sweep}  irradiance 812 W/m2 |`)).toEqual(['±']);
    expect(labels(`${sweep}  irradiance 812 W/m2 ± 2 |`)).toEqual(['%', 'W/m2', 'kW/m2', 'mW/cm2']);
    expect(labels('tracer T\n  voltage |')).toEqual(['±']);
    expect(labels('reference R\n  temperature ± 1 |')).toEqual(['%', 'K']);
    expect(labels('reference R\n  temperature ± 1 K |')).toEqual(['k=1']);
    expect(labels('criteria c\n  Pmax -5 |')).toEqual(['%']);
    expect(labels('criteria c\n  Pmax -5 % |')).toEqual(['..']);
    expect(labels('criteria c\n  Pmax -5 % .. 3 |')).toEqual(['%']);
    expect(labels('string 9\n  cable 48 |')).toContain('m');
    expect(labels('string 9\n  cable 48 m, 4 |')).toContain('mm2');
    expect(labels('string 9\n  cable 48 m, 4 mm2, |')).toEqual(['copper', 'aluminium']);
    expect(labels('site s\n  position 52.4 |')).toEqual(['N', 'S']);
    expect(labels('site s\n  position 52.4 N, 0.2 |')).toEqual(['E', 'W']);
    expect(labels(`${sweep}  temperature 44 degC module offset 3 |`)).toEqual(['K']);
    expect(labels('replace 1.03/1 at 2026-05-14 11:42\n  type KF108M |')).toEqual(['->']);
    expect(labels('replace 1.03/1 at 2026-05-14 11:42\n  type KF108M -> |')).toEqual(['KF108M']);
    expect(labels('tracer T\n  interval 12 |')).toEqual(['months', 'years']);
    expect(labels('string 1.01 |')).toEqual(['..']);
    expect(labels('accept 1.01 |')).toEqual(['at']);
    expect(labels('accept 1.01 "why" |')).toEqual(['by']);
  });

  it('offers the modules of a string by their positions', () => {
    const offered = labels('sweep 1.03/|');
    expect(offered).toHaveLength(18);
    expect(offered[10]).toBe('1.03/11');
    expect(taken('sweep 1.03/1|', '1.03/11')).toBe('sweep 1.03/11');
  });

  it('offers the instruments that are not named yet, one of each kind', () => {
    expect(labels(`${sweep}  with |`)).toEqual(['T1', 'RC1']);
    expect(labels(`${sweep}  with RC1, |`)).toEqual(['T1']);
  });

  it('offers the day of the record above', () => {
    expect(labels(`${sweep}sweep 1.02 at |`)).toEqual(['2026-05-14']);
  });

  const tables = { tables: ['sweeps/1.02.csv', '1.03.csv', 'sweeps/1.03-m11.csv', 'x.csv'] };
  it('offers tables, those first that nothing uses and that are named like the string', () => {
    expect(labels(`sweep 1.03/11 at 2026-05-14 11:42\n  data |`, tables)).toEqual([
      'sweeps/1.03-m11.csv',
      'sweeps/1.02.csv',
      'x.csv',
      '1.03.csv',
    ]);
    expect(taken(`${sweep}  data |`, 'x.csv', tables)).toBe('  data "x.csv"');
    expect(taken(`${sweep}  data "|"`, 'x.csv', tables)).toBe('  data "x.csv"');
    expect(taken(`${sweep}  data "sw|eeps/"`, 'x.csv', tables)).toBe('  data "x.csv"');
    expect(taken(`${sweep}  data "|`, 'x.csv', tables)).toBe('  data "x.csv"');
    expect(taken('sweeps from "|"', 'x.csv', tables)).toBe('sweeps from "x.csv"');
    expect(taken('include |', 'a.sweepbook', { campaignFiles: ['a.sweepbook'] })).toBe(
      'include "a.sweepbook"',
    );
  });

  it('ranks a name by the parts of an address it has', () => {
    expect(likenessTo('1.03', 'a/1.03-first.csv')).toBeGreaterThan(likenessTo('1.03', 'a/1.03-m11.csv'));
    expect(likenessTo('1.03/11', 'a/1.03-m11.csv')).toBeGreaterThan(likenessTo('1.03/11', 'a/1.03.csv'));
    expect(likenessTo('1.0', '1.03.csv')).toBe(likenessTo('9', '1.03.csv'));
  });

  it('offers the columns of the table, the likely one first', () => {
    const bytes = new TextEncoder().encode(
      `Gerät X\nNr;Spannung (V);Strom [mA];Kanal "C"\n${Array.from({ length: 12 }, (_, at) => `${at};${at},5;${12 - at},1;7`).join('\n')}\n`,
    );
    const columns = tableColumns(bytes);
    expect(columns.map(({ header, role }) => [header, role])).toEqual([
      ['Nr', undefined],
      ['Spannung (V)', 'voltage'],
      ['Strom [mA]', 'current'],
      ['Kanal "C"', undefined],
    ]);
    expect(labels('layout l\n  current |', { columns })[0]).toBe('"Strom [mA]"');
    expect(taken('layout l\n  voltage "|"', 'Spannung (V)', { columns })).toBe('  voltage "Spannung (V)"');
    expect(taken('layout l\n  voltage "|"', 'Kanal "C"', { columns })).toBe('  voltage "Kanal ""C"""');
    expect(labels('layout l\n  voltage "U" |')).toEqual(['V', 'mV', 'kV']);
  });

  it('asks the host for paths and tables only where they are wanted', () => {
    const needs = (text: string) => {
      const { open, position } = marked(text);
      return completionNeeds(evaluation, open, position);
    };
    expect(needs(`${sweep}  data "|"`)).toEqual({ paths: 'table' });
    expect(needs('include |')).toEqual({ paths: 'campaign' });
    expect(needs('sweeps from "all.csv"\n  voltage |')).toEqual({ tables: ['/fen/all.csv'] });
    expect(needs(`${sweep}  irradiance |`)).toEqual({});
    expect(needs(`${sweep}  remark "|"`)).toEqual({});
  });
});

describe('whole blocks', () => {
  it('are there for every block but includes, and read without a wrong word', () => {
    const snippets = blockSnippets({ campaign: evaluation.campaign, lastDay: '2026-05-14' });
    expect(snippets.map(({ block }) => block).sort()).toEqual(
      blockKeywords
        .map(({ name }) => name)
        .filter((name) => name !== 'include')
        .sort(),
    );
    for (const { block, lines } of snippets) {
      const text = withoutStops(lines.join('\n'));
      const { problems } = resolveCampaign({ file: '', document: parseDocument(`${text}\n`), includes: [] });
      const ids = problems.map(({ id }) => id).filter((id) => /^syntax|unknown$|surplus|repeated/.test(id));
      expect(
        ids.filter((id) => id !== 'name/unknown'),
        `${block}: ${text}`,
      ).toEqual([]);
    }
  });

  it('leave every measured number to the user', () => {
    const module = blockSnippets({}).find(({ block }) => block === 'module')!;
    expect(withoutStops(module.lines.join('\n'))).toContain('Pmax        W');
    const item = items('|').find(({ label }) => label === 'sweep …')!;
    expect(item.isSnippet).toBe(true);
    expect(withoutStops(item.insertText)).toContain('data        ""');
    expect(item.insertText).toContain('T1, RC1');
  });

  it('keep a name with signs of the snippet syntax as it is', () => {
    expect(withoutStops('${1|a\\,b,c|} ${2:x\\}y} $3 \\$4')).toBe('a,b x}y  $4');
  });
});

describe('the hint at a value', () => {
  const hint = (text: string) => {
    const { open, position } = marked(text);
    const found = signatureAt(open, position);
    const part = found?.active === undefined ? undefined : found.parts[found.active];
    return found && [found.label, part && found.label.slice(part.start, part.end)];
  };

  it('shows the piece that the cursor is at', () => {
    expect(hint('string 9\n  modules |')).toEqual(['modules count x name', 'count']);
    expect(hint('string 9\n  modules 18 |')![1]).toBe('x');
    expect(hint('string 9\n  modules 18 x KF|')![1]).toBe('name');
    expect(hint(`${sweep}  temperature 44.1 |`)![1]).toBe('degC');
    expect(hint(`${sweep}  temperature 44.1 degC mod|`)![1]).toBe('[±]');
    expect(hint(`${sweep}  temperature 44.1 degC module |`)![1]).toBe('[offset]');
    expect(hint(`${sweep}  irradiance 812W/m2 |`)![1]).toBe('[±]');
    expect(hint('string 9\n  cable 48 m, 4 mm2, |')).toEqual([
      expect.stringContaining('cable number'),
      'copper | aluminium',
    ]);
    expect(hint('criteria c\n  Pmax |')![1]).toBe('[least]');
    expect(hint('criteria c\n  Pmax .. |')![1]).toBe('[most]');
    expect(hint('sweep |')![1]).toBe('address');
    expect(hint('sweep 1.03 at |')![1]).toBe('2026-05-14');
    expect(hint('note at 2026-05-14 |')![1]).toBe('[11:42]');
    expect(hint('replace 1.03/1 at 2026-05-14 11:42\n  serial "a" |')![1]).toBe('->');
  });

  it('is there for every property and header, and only behind its keyword', () => {
    for (const block of blockKeywords) {
      expect(hint(`${block.name} |`), block.name).toBeDefined();
      for (const { name } of propertiesOf(block.name).values()) {
        expect(hint(`${block.example}\n  ${name} |`), `${block.name} ${name}`).toBeDefined();
        expect(hint(`${block.example}\n  ${name}|`)).toBeUndefined();
      }
    }
    expect(hint('nonsense |')).toBeUndefined();
    expect(hint('site x # |')).toBeUndefined();
  });

  it('marks nothing more behind a complete value', () => {
    for (const block of blockKeywords) {
      for (const { name, example, form } of propertiesOf(block.name).values()) {
        if (/quantity|uncertainty|limits|temperature|column|references/i.test(form.kind)) continue;
        expect(hint(`${block.example}\n  ${example} |`)![1], `${block.name} ${name}`).toBeUndefined();
      }
    }
  });

  it('survives any text', () => {
    const pieces = rootText.split(/(?<=\s)/);
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom(...pieces, '"', '#', '±', ','), { maxLength: 30 }),
        fc.nat(8),
        fc.nat(40),
        (parts, line, character) => {
          const open = openFile(root, parts.join(''));
          const at = { line, character: Math.min(character, open.lineAt(line).length) };
          signatureAt(open, at);
          completionNeeds(evaluation, open, at);
          for (const { range } of completionsAt(evaluation, open, at, { tables: ['a.csv'] }))
            expect(range.start.character <= at.character && at.character <= range.end.character).toBe(true);
        },
      ),
      { numRuns: 300 },
    );
  });
});
