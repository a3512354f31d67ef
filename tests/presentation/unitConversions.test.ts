import { beforeAll, expect, it } from 'vitest';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { conversionsAt } from '../../src/presentation/unitConversions.js';
import { at, evaluateMemory, library, root } from './memoryCampaign.js';

let evaluation: Evaluation;
beforeAll(async () => {
  evaluation = await evaluateMemory();
});

// 1 kW/m2 is 1000 W/m2 and 1 mW/cm2 is 10 W/m2; 1 V is 1000 mV (SI Brochure, BIPM, 9th edition).
it('offers a quantity in its other units, the number converted and exact', () => {
  const found = conversionsAt(evaluation.campaign, root, at('irradiance ', '812 W/m2 ± 2'));
  expect(found.map(({ text }) => text)).toEqual(['0.812 kW/m2', '81.2 mW/cm2']);
  expect(found[0]!.range.start).toEqual(at('irradiance ', '812 W/m2 ± 2'));
  const voc = conversionsAt(evaluation.campaign, library, { line: 6, character: 8 });
  expect(voc.map(({ text }) => text)).toEqual(['37200 mV', '0.0372 kV']);
});

it('offers nothing on words, names and numbers without unit', () => {
  expect(conversionsAt(evaluation.campaign, root, at('purpose ', 'commissioning'))).toEqual([]);
  expect(conversionsAt(evaluation.campaign, root, at('modules ', '18'))).toEqual([]);
});
