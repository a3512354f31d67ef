/** One number is the same to the last digit shown in report, panel, JSON result and exported tables. */
import { beforeAll, describe, expect, it } from 'vitest';
import { exportSource } from '../../src/export/campaignRows.js';
import { exportTables } from '../../src/export/tables.js';
import { toCsv } from '../../src/export/writeCsv.js';
import { toParquet } from '../../src/export/writeParquet.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { formatDeviation, formatToUncertainty } from '../../src/presentation/formatNumber.js';
import { previewModel } from '../../src/presentation/previewModel.js';
import { toResult } from '../../src/presentation/resultSchema.js';
import { plainText, type TableBlock } from '../../src/report/document.js';
import { languages } from '../../src/report/reportOptions.js';
import { openDuck, type Row } from '../export/duck.js';
import { documentOf, example, options } from './campaigns.js';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

let evaluation: Evaluation;
beforeAll(async () => {
  evaluation = await example('harrow-fen');
});

const tablesWith = (column: string, language: (typeof languages)[number] = 'en'): TableBlock[] =>
  documentOf(evaluation, { language }).blocks.flatMap((block) =>
    block.kind === 'table' && block.columns.some(({ title }) => title === column) ? [block] : [],
  );

/** The tables of curve parameters, one for each sweep with a curve, in the order of the strings. */
const parameterTables = (): string[][][] =>
  tablesWith('at STC').map(({ rows }) => rows.map((row) => row.map(plainText)));

const inReportOrder = (): Evaluation['sweeps'] => {
  const strings = [...new Set([...evaluation.campaign.strings.keys()])];
  return strings.flatMap((string) =>
    evaluation.sweeps.filter(({ address }) => address.split('/')[0] === string),
  );
};

describe('the numbers of the report', () => {
  it('are those of the panel', () => {
    const tables = parameterTables();
    const sweeps = inReportOrder();
    expect(tables).toHaveLength(sweeps.length);
    sweeps.forEach((sweep, index) => {
      const { parameters } = previewModel(evaluation, sweep.id)!;
      expect(tables[index]!.map((row) => row.slice(1, 6))).toEqual(
        parameters.map((row) => [
          row.measured,
          row.translated,
          row.nameplate,
          row.deviation,
          row.uncertainty,
        ]),
      );
    });
  });

  it('are those of the JSON result', () => {
    const result = toResult(evaluation, options.display, '0.0.0');
    const byId = new Map(evaluation.sweeps.map(({ id }, index) => [id, result.sweeps[index]!]));
    const tables = parameterTables();
    inReportOrder().forEach((sweep, index) => {
      const row = tables[index]![0]!;
      const { translated, deviation, uncertainty } = byId.get(sweep.id)!;
      if (translated?.pmax === undefined || translated.pmax === null) return;
      expect(row[2]).toBe(formatToUncertainty(translated.pmax, uncertainty.pmax ?? undefined, 'W'));
      expect(row[4]).toBe(formatDeviation(deviation.pmax ?? undefined));
    });
  });

  it.each(['csv', 'parquet'] as const)('are those of the exported %s', async (format) => {
    const folder = mkdtempSync(path.join(tmpdir(), 'sweepbook-'));
    try {
      const table = exportTables.find(({ table: { name } }) => name === 'sweeps')!;
      const source = exportSource(evaluation, options.display, '0.0.0');
      const { bytes } = table.write(source, format === 'csv' ? toCsv : toParquet);
      const file = path.join(folder, `sweeps.${format}`);
      writeFileSync(file, bytes);
      const duck = await openDuck();
      const rows = await duck.query(`SELECT * FROM '${file}'`);
      expect(rows).toHaveLength(evaluation.sweeps.length);
      const written = tablesWith('deviation').find(({ columns }) => columns[0]!.title === 'sweep')!;
      rows.forEach((row: Row, index) => {
        const cells = written.rows[index]!.map(plainText);
        const value = (column: string): number | undefined => (row[column] as number | null) ?? undefined;
        expect(cells[0]).toBe(row['address']);
        expect(cells[5]).toBe(formatToUncertainty(value('translated_pmax'), value('uncertainty_pmax'), 'W'));
        expect(cells[6]).toBe(formatDeviation(value('deviation_pmax')));
      });
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  it.each(languages)('have the same digits in %s', (language) => {
    const digits = (from: (typeof languages)[number]): string[] =>
      documentOf(evaluation, { language: from }).blocks.flatMap((block) =>
        block.kind === 'table' && block.columns.some(({ title }) => title === 'Pmax')
          ? block.rows.map((row) =>
              row
                .slice(3, 8)
                .map(plainText)
                .join(' ')
                .replaceAll(',', '.')
                .replace(/[^\d.+±%]/g, ''),
            )
          : [],
      );
    expect(digits(language)).toEqual(digits('en'));
  });
});
