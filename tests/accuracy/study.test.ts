import { describe, expect, it } from 'vitest';
import {
  accuracyReport,
  everyModule,
  methodsFor,
  missed,
  regions,
  technologies,
  worstErrors,
  type Method,
} from './study.js';

it('README.md is what the study finds', async () => {
  await expect(accuracyReport()).toMatchFileSnapshot('./README.md');
});

const [near, , , far] = regions;

describe.each(technologies)('$name', (technology) => {
  const methods = methodsFor(technology);
  const named = (name: string): Method => methods.find((method) => method.name === name)!;

  it.each(methods.filter(({ knowledge }) => knowledge))('$name: keeps every limit', (method) => {
    expect(missed(method, near)).toEqual([]);
    if (method.knowledge === 'exact') expect(missed(method, far)).toEqual([]);
  });

  it('procedure 2 keeps every limit, by the coefficients of another band gap too', () => {
    for (const method of methods.filter(({ name }) => name.startsWith('Procedure 2')))
      expect(missed(method, near)).toEqual([]);
    expect(missed(named('Procedure 2, exact coefficients'), far)).toEqual([]);
  });

  it('scaling by irradiance and gamma is worse than what auto chooses in every region', () => {
    const [auto, scaling] = [methods[0]!, named('Scaling by G and gamma')];
    for (const { within } of regions)
      expect(Math.abs(worstErrors(auto, within).pmax)).toBeLessThan(
        Math.abs(worstErrors(scaling, within).pmax),
      );
  });
});

it.each(everyModule)('$row, $name: what auto chooses keeps Pmax and Voc', (module) => {
  const [exact, nameplate] = methodsFor(module);
  expect(missed(exact!, near)!.filter((name) => name !== 'Isc')).toEqual([]);
  expect(missed(exact!, far)).toEqual([]);
  expect(missed(nameplate!, near)).toEqual([]);
});

it('Isc is missed by the two modules alone whose shunt is weakest', () => {
  const missing = everyModule.filter((module) => missed(methodsFor(module)[0]!, near)!.includes('Isc'));
  expect(missing.map(({ name }) => name)).toEqual(['CIGS', 'CIS']);
});
