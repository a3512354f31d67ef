import type { ModuleRecord } from '../campaign/model.js';
import { shiftRange } from '../text/place.js';
import type { Check } from './check.js';

/** Once for a module type, at the first rear reading. */
export const rearIrradianceUnused: Check = {
  id: 'sweep/rear-irradiance-unused',
  says: 'A rear irradiance is given and the module declares no bifaciality, so the reading is not used (IEC TS 60904-1-2).',
  concerns: ({ record }) => record.kind === 'sweep' && (record.rearIrradiance?.value ?? 0) !== 0,
  run: ({ sweeps }) => {
    const reported = new Set<ModuleRecord>();
    return sweeps.flatMap(({ record, block, target }) => {
      const { module } = target;
      if (record.kind !== 'sweep' || !record.rearIrradiance) return [];
      if (!module || module.bifaciality || reported.has(module)) return [];
      reported.add(module);
      const range = record.propertyRanges.get('rear') ?? record.rearIrradiance.range;
      return [
        {
          id: rearIrradianceUnused.id,
          severity: 'warning' as const,
          file: block.file,
          range: shiftRange(range, block.startLine),
          message:
            `The rear irradiance is not used: module ${module.name.text} declares no bifaciality. ` +
            'Write `bifaciality 70 %` in its block as the data sheet has it, or remove the reading.',
        },
      ];
    });
  },
};
