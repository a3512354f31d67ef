import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { resolveCampaign } from '../../src/campaign/resolveCampaign.js';
import { moduleBlock, problemsOf, technologyOf } from '../../src/moduleTable/moduleBlock.js';
import { notationName, quoted } from '../../src/moduleTable/notationName.js';
import { readModuleTable, type ModuleRow } from '../../src/moduleTable/readModuleTable.js';
import { searchModules } from '../../src/moduleTable/searchModules.js';
import { faultOfName } from '../../src/campaign/names.js';
import { parseDocument } from '../../src/syntax/document.js';
import { readTable } from '../physics/checkData.js';

/**
 * Nine rows of the CEC module table of 2017-06-05 as pvlib-python 0.6.0 carries it (see tests/physics/data/README.md).
 */
const published = new URL('../physics/data/cec-modules-2017-06-05.csv', import.meta.url);
const source = { file: 'table.csv', line: 3 };

const tableOf = (text: string | Uint8Array) => {
  const result = readModuleTable(typeof text === 'string' ? new TextEncoder().encode(text) : text);
  if (!result.ok) throw new Error(result.message);
  return result.table;
};
const messageOf = (text: string | Uint8Array) => {
  const result = readModuleTable(typeof text === 'string' ? new TextEncoder().encode(text) : text);
  return result.ok ? undefined : result.message;
};
const moduleOf = (block: string) => {
  const document = parseDocument(block);
  const { campaign, problems } = resolveCampaign({ file: '', document, includes: [] });
  expect(campaign.modules.size).toBe(1);
  return { record: [...campaign.modules.values()][0]!.record, problems };
};

describe('rows of the published table', () => {
  const table = tableOf(readFileSync(published));
  const written = readTable('cec-modules-2017-06-05.csv').filter((row) => row['Name'] !== 'Units');

  it('are all read, the row of units is not', () => {
    expect(table.rows.map(({ name }) => name)).toEqual(written.map((row) => row['Name']));
    expect(table.rows[0]!.line).toBe(3);
    expect(table.skipped).toEqual([]);
  });

  it.each(written.map((row, index) => [row['Name']!, row, index] as const))(
    '%s becomes a block that reads without a problem and says what the table says',
    (_name, row, index) => {
      const { record, problems } = moduleOf(moduleBlock(table.rows[index]!, source));
      expect(problems).toEqual([]);
      const value = (column: string) => Number(row[column]);
      expect(record.isc!.value).toBe(value('I_sc_ref'));
      expect(record.voc!.value).toBe(value('V_oc_ref'));
      expect(record.imp!.value).toBe(value('I_mp_ref'));
      expect(record.vmp!.value).toBe(value('V_mp_ref'));
      expect(record.pmax!.value).toBeCloseTo(value('I_mp_ref') * value('V_mp_ref'), 9);
      // Absolute coefficients in A/K and V/K; gamma of the table is in %/K of Pmax.
      expect(record.alpha).toBeCloseTo(value('alpha_sc'), 12);
      expect(record.beta).toBeCloseTo(value('beta_oc'), 12);
      expect(record.gammaWritten!.value).toBeCloseTo(value('gamma_r') / 100, 12);
      expect(record.cells).toBe(value('N_s'));
      expect(record.substrings).toBeUndefined();
      expect(record.title).toBe(row['Name']);
    },
  );

  it('carry the technologies in the words of the notation', () => {
    const words = table.rows.map(({ technology }) => technologyOf(technology));
    expect(words).toEqual([
      ...['mono-Si', 'mono-Si', 'multi-Si', 'multi-Si', 'CdTe', 'CdTe', 'CIGS', 'CIS', 'HJT'],
    ]);
    expect(technologyOf('Thin Film')).toBeUndefined();
  });

  it('are found by all words, whatever their case, and a whole name stands alone', () => {
    const names = (query: string) => searchModules(table, query).map(({ name }) => name);
    expect(names('ROW cdte')).toEqual(['row 5', 'row 6']);
    expect(names('si multi')).toEqual(['row 3', 'row 4']);
    expect(names('row 1')).toEqual(['row 1']);
    expect(names('row none')).toEqual([]);
    expect(names('  ')).toEqual([]);
  });
});

/** Invented rows. */
const header =
  'Name,Manufacturer,Technology,Bifacial,STC,N_s,I_sc_ref,V_oc_ref,I_mp_ref,V_mp_ref,alpha_sc,beta_oc,gamma_r';
const good =
  'Kestrel Foundry 108M,Kestrel Foundry,Mono-c-Si,0,408.4,54,13.9,37.2,13.09,31.2,0.0063,-0.1,-0.35';
const row = (changes: Partial<ModuleRow>): ModuleRow => ({
  ...tableOf(`${header}\n${good}\n`).rows[0]!,
  ...changes,
});

describe('forms of the table', () => {
  it('may have a row that begins with [0], other columns, another order, semicolons, CRLF and a byte order mark', () => {
    const swapped = 'x;gamma_pmp;Name;V_mp_ref;I_mp_ref;V_oc_ref;I_sc_ref';
    const lines = [swapped, ';%/K;;V;A;V;A', '[0];lib;n;v;i;v;i', '1;-0.35;"A; B";31.2;13.09;37.2;13.9', ''];
    // The row of units begins with `Units` in the first column.
    lines[1] = `Units${lines[1]!}`;
    const { rows } = tableOf(`\uFEFF${lines.join('\r\n')}`);
    expect(rows).toHaveLength(1);
    expect(rows[0]).toMatchObject({ name: 'A; B', gamma: '-0.35', isc: '13.9', line: 4 });
  });

  it('takes the power that the table states, and says that a module is bifacial', () => {
    expect(moduleBlock(row({}), source)).toContain('Pmax       408.4 W');
    expect(moduleBlock(row({ bifacial: '1' }), source)).toContain('write its bifaciality');
  });

  it('is refused with a message that says what is missing or wrong', () => {
    expect(messageOf('')).toBe('The file is empty.');
    expect(messageOf('V,I\n1,2\n')).toMatch(/Line 1 .*no column Name, I_sc_ref, V_oc_ref/);
    expect(messageOf(`${header}\n`)).toMatch(/no modules under it/);
    expect(messageOf(new Uint8Array([0x50, 0x4b, 3, 4]))).toMatch(/zip/);
    const units = 'Units,,,,W,,A,V,A,V,%/K,V/K,%/K';
    expect(messageOf(`${header}\n${units}\n${good}\n`)).toBe(
      'The unit of alpha_sc is A/K, not %/K (row of units, line 2).',
    );
    expect(messageOf(`${header}\n"Kestrel,1\n${good}\n`)).toMatch(/quotation mark opens on line 2/);
  });

  it('passes over rows without a name, and says on which lines they are', () => {
    const table = tableOf(`${header}\n${good}\n,,,,,,1,2,3\n\n${good}\n`);
    expect(table.rows.map(({ line }) => line)).toEqual([2, 5]);
    expect(table.skipped).toEqual([3]);
  });
});

describe('rows that do not hang together', () => {
  it('name what is left out, and why', () => {
    const odd = moduleBlock(row({ cells: '54.5', technology: 'Thin Film', alpha: 'n/a' }), source);
    expect(odd).toMatch(/# Left out: cells 54\.5\./);
    expect(odd).toContain('"Thin Film", for which the notation has no word');
    expect(odd).toContain('writes "n/a" for alpha_sc');
    const exchanged = moduleBlock(row({ imp: '14.2', stcPower: '443' }), source);
    expect(exchanged).toMatch(/# Left out: Imp 14\.2 A\. Imp is below Isc/);
  });

  it('never write an error other than that a value is missing', () => {
    const anyValue = fc.oneof(
      fc.double({ min: -1e3, max: 1e4, noNaN: true }).map(String),
      fc.constantFrom('', 'NaN', 'Infinity', '1e400', '-', '0', '1,5', '\u0000', '"'),
      fc.string(),
    );
    const anyRow = fc.record({
      name: fc.string({ minLength: 1, unit: 'binary' }),
      technology: fc.oneof(fc.constant('Mono-c-Si'), fc.string({ unit: 'binary' })),
      cells: anyValue,
      isc: anyValue,
      voc: anyValue,
      imp: anyValue,
      vmp: anyValue,
      alpha: anyValue,
      beta: anyValue,
      gamma: anyValue,
      stcPower: anyValue,
    });
    fc.assert(
      fc.property(anyRow, (changes) => {
        const lines = moduleBlock(row(changes), { file: changes.name, line: 1 }).split('\n');
        const errors = problemsOf(lines).filter(({ severity }) => severity === 'error');
        expect(errors.filter(({ id }) => id !== 'module/incomplete')).toEqual([]);
      }),
      { numRuns: 300 },
    );
  });
});

describe('names', () => {
  it.each([
    ['Kestrel Foundry 108M/B (2026)', 'Kestrel-Foundry-108M-B-2026'],
    ['  "K" + 5 % ', 'K-5'],
    ['...a..b', 'a.b'],
    ['(*)', 'module'],
    ['Turmfalke Gießerei 60', 'Turmfalke-Gießerei-60'],
  ])('%s is %s', (text, name) => {
    expect(notationName(text)).toBe(name);
  });

  it('are always names of the notation, and titles always the text on one line', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        expect(faultOfName(notationName(text))).toBeUndefined();
        const problems = problemsOf([`module ${notationName(text)} ${quoted(text)}`]);
        expect(problems.map(({ id }) => id)).toEqual(['module/incomplete']);
      }),
    );
  });

  it('that are taken get a number', () => {
    const taken = new Set<string>();
    const heads = [1, 2, 3].map(() => moduleBlock(row({}), source, taken).split(' ')[1]);
    expect(heads).toEqual(['Kestrel-Foundry-108M', 'Kestrel-Foundry-108M_2', 'Kestrel-Foundry-108M_3']);
  });
});

it('reads and searches 20,000 rows', () => {
  const rows = Array.from({ length: 20_000 }, (_, index) => good.replace('108M', `108M-${index}`));
  const table = tableOf([header, ...rows].join('\n'));
  expect(table.rows).toHaveLength(20_000);
  expect(searchModules(table, 'kestrel 19999').map(({ line }) => line)).toEqual([20_001]);
});
