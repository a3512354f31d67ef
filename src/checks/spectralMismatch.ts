import type { InstrumentRecord, ModuleRecord, Technology } from '../campaign/model.js';
import { shiftRange } from '../text/place.js';
import type { FileProblem } from '../text/problem.js';
import type { Check, CheckInput, CheckedSweep } from './check.js';

/**
 * Technologies whose spectral responsivities are alike enough that a field measurement commonly does without a correction.
 * Crystalline silicon of either kind and heterojunctions absorb by the same gap and differ at the ends of the spectrum; CIS
 * and CIGS differ by the gallium. Common practice, no source: the measure is the mismatch factor of IEC 60904-7, which needs
 * the two responsivities and the spectrum.
 */
const groups: Readonly<Record<Technology, string>> = {
  'mono-Si': 'crystalline silicon',
  'multi-Si': 'crystalline silicon',
  HJT: 'crystalline silicon',
  CIGS: 'chalcopyrite',
  CIS: 'chalcopyrite',
  'a-Si': 'a-Si',
  CdTe: 'CdTe',
  GaAs: 'GaAs',
  perovskite: 'perovskite',
};

export const spectralMismatch: Check = {
  id: 'instrument/spectral-mismatch',
  says: 'The reference device and the modules are of different technologies, so their spectral responses differ (IEC 60904-7).',
  concerns: ({ target: { reference, module } }) =>
    reference?.technology !== undefined &&
    module?.technology !== undefined &&
    reference.technology !== module.technology,
  run: (input) => {
    const seen = new Map<InstrumentRecord, Set<ModuleRecord>>();
    return input.sweeps.flatMap((sweep) => {
      const { reference, module } = sweep.target;
      if (!reference || !module || seen.get(reference)?.has(module)) return [];
      seen.set(reference, (seen.get(reference) ?? new Set()).add(module));
      return problemOf(reference, module, sweep, input);
    });
  },
};

/** Once for a reference device and a module type, where both declare a technology. */
function problemOf(
  reference: InstrumentRecord,
  module: ModuleRecord,
  sweep: CheckedSweep,
  { campaign }: CheckInput,
): FileProblem[] {
  const [own, measured] = [reference.technology, module.technology];
  if (own === undefined || measured === undefined || own === measured) return [];
  const placed = campaign.instruments.get(reference.name.text);
  if (!placed) return [];
  const alike = groups[own] === groups[measured];
  const pair = `Reference ${reference.name.text} is ${own} and module ${module.name.text} is ${measured}`;
  return [
    {
      id: spectralMismatch.id,
      severity: alike ? 'information' : 'warning',
      file: placed.block.file,
      range: shiftRange(
        reference.propertyRanges.get('technology') ?? reference.headerRange,
        placed.block.startLine,
      ),
      message: alike
        ? `${pair}: spectrally much alike. What difference remains is not corrected; IEC 60904-7 says how to compute it.`
        : `${pair}: they respond to different parts of the spectrum. The irradiance read is then not the one that the module ` +
          'sees; use a matched reference device, or correct by the mismatch factor of IEC 60904-7. No correction is made here, and the uncertainty holds none for it.',
      related: [{ place: sweep.place, message: 'Used together here.' }],
    },
  ];
}
