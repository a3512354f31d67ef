import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import Ajv2020 from 'ajv/dist/2020.js';
import { expect, it } from 'vitest';
import { coefficientJsonSchema, coefficientResultSchema } from '../../src/presentation/coefficientSchema.js';
import { shell } from '../cli/runInFolder.js';

const published = fileURLToPath(new URL('../../syntaxes/coefficients-result.schema.json', import.meta.url));
const example = path.resolve(path.dirname(published), '../examples/through-the-day');
const sample = path.resolve(path.dirname(published), '../examples/harrow-fen-sample');

it('publishes the schema that the program follows, and prints it', async () => {
  if (process.env['UPDATE_GOLDEN'] === '1') writeFileSync(published, coefficientJsonSchema());
  const text = readFileSync(published, 'utf8');
  expect(text).toBe(coefficientJsonSchema());
  expect((await shell(example, ['schema', '--coefficients'])).out).toBe(text);
});

it.each([
  ['all that is determined', example, 'F1/6', 0],
  ['what is refused', sample, 'KF108M', 2],
])('results say %s as the published schema and zod accept', async (_, folder, name, expected) => {
  const args = ['coefficients', 'campaign.sweepbook', name, '--format', 'json'];
  const { status, out } = await shell(folder, args);
  expect(status).toBe(expected);
  const result = JSON.parse(out) as { coefficients: { value: number | null; refusal: string | null }[] };
  const validate = new Ajv2020({ strict: true }).compile(JSON.parse(readFileSync(published, 'utf8')));
  validate(result);
  expect(validate.errors ?? []).toEqual([]);
  expect(coefficientResultSchema.safeParse(result).error).toBeUndefined();
  for (const { value, refusal } of result.coefficients) expect(value === null).toBe(refusal !== null);
  expect(validate({ ...result, coefficients: undefined })).toBe(false);
});
