import { readFileSync, writeFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import { expect, it } from 'vitest';
import { checkResultSchema, resultJsonSchema, toResult } from '../../src/presentation/resultSchema.js';
import { display, empty, evaluation } from './fixture.js';
import { expectGolden } from './goldenFile.js';

const published = new URL('../../syntaxes/check-result.schema.json', import.meta.url);

it('publishes the schema that the program follows', () => {
  if (process.env['UPDATE_GOLDEN'] === '1') writeFileSync(published, resultJsonSchema());
  expect(readFileSync(published, 'utf8')).toBe(resultJsonSchema());
});

it.each([
  ['a campaign', evaluation],
  ['an empty file', empty],
])('writes a result of %s that the published schema and zod accept', (_, given) => {
  const result = JSON.parse(JSON.stringify(toResult(given, display, '0.0.0'))) as unknown;
  const validate = new Ajv2020({ strict: true }).compile(JSON.parse(readFileSync(published, 'utf8')));
  validate(result);
  expect(validate.errors ?? []).toEqual([]);
  expect(checkResultSchema.safeParse(result).error).toBeUndefined();
});

it('refuses a result that lacks a verdict', () => {
  const result = toResult(evaluation, display, '0.0.0');
  const broken = { ...result, sweeps: [{ ...result.sweeps[0], verdict: undefined }] };
  const validate = new Ajv2020({ strict: true }).compile(JSON.parse(resultJsonSchema()));
  expect(validate(JSON.parse(JSON.stringify(broken)))).toBe(false);
});

it('says everything of each sweep, rounded to seven digits', () => {
  expectGolden('check.json', JSON.stringify(toResult(evaluation, display, '0.0.0'), null, 2) + '\n');
});
