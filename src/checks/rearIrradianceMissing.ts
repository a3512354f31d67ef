import type { ModuleRecord } from '../campaign/model.js';
import type { Check } from './check.js';

/** Once for a module type, at its first sweep without a rear reading. `rear 0 W/m2` says that the rear was dark. */
export const rearIrradianceMissing: Check = {
  id: 'sweep/rear-irradiance-missing',
  says: 'A bifacial module was swept without a reading of the rear irradiance (IEC TS 60904-1-2).',
  concerns: ({ record, target: { module }, analysis }) => {
    const rear = record.kind === 'sweep' ? record.rearIrradiance : undefined;
    return (module?.bifaciality?.value ?? 0) !== 0 && !rear && analysis.verdict !== 'void';
  },
  run: ({ sweeps }) => {
    const reported = new Set<ModuleRecord>();
    return sweeps.flatMap((sweep) => {
      const { record, block, target } = sweep;
      const { module } = target;
      if (!module?.bifaciality || reported.has(module)) return [];
      reported.add(module);
      const percent = Number((module.bifaciality.value * 100).toPrecision(3));
      const remedy =
        record.kind === 'sweep'
          ? 'Write `rear 90 W/m2` as it was measured, or `rear 0 W/m2` where the rear was covered.'
          : 'A table of sweeps has no column for it; write such sweeps as `sweep` blocks with `rear`.';
      return [
        {
          id: rearIrradianceMissing.id,
          severity: 'warning' as const,
          file: block.file,
          range: sweep.place.range,
          message:
            `Module ${module.name.text} is bifacial (${percent} %) and no rear irradiance is given, so what the rear adds to ` +
            `current and power is not known and counts as power of the front. ${remedy}`,
        },
      ];
    });
  },
};
