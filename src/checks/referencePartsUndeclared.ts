import type { InstrumentRecord } from '../campaign/model.js';
import { shiftRange } from '../text/place.js';
import type { FileProblem } from '../text/problem.js';
import type { Check, CheckInput, CheckedSweep } from './check.js';

/** Once for a reference device, at its irradiance, where a stated uncertainty rests on it. */
export const referencePartsUndeclared: Check = {
  id: 'instrument/parts-undeclared',
  says: 'A reference device declares no alignment or no spectral part: its irradiance uncertainty is taken to hold them.',
  oncePer: ({ target: { reference }, analysis }) =>
    reference?.irradiance && analysis.budget.length > 0 ? reference : undefined,
  run: (input) => {
    const seen = new Set<InstrumentRecord>();
    return input.sweeps.flatMap((sweep) => {
      const { reference } = sweep.target;
      if (!reference?.irradiance || sweep.analysis.budget.length === 0 || seen.has(reference)) return [];
      seen.add(reference);
      return problemOf(reference, sweep, input);
    });
  },
};

/** What one would write, as an example: common practice, no source. */
const examples = { alignment: 'alignment ± 1 deg', spectral: 'spectral ± 1 %' } as const;

function problemOf(
  reference: InstrumentRecord,
  sweep: CheckedSweep,
  { campaign }: CheckInput,
): FileProblem[] {
  // A property that was written and could not be read has had its own problem.
  const missing = (['alignment', 'spectral'] as const).filter((name) => !reference.propertyRanges.has(name));
  const placed = campaign.instruments.get(reference.name.text);
  if (missing.length === 0 || !placed) return [];
  const names = missing.map((name) => `\`${name}\``).join(' nor ');
  const written = missing.map((name) => `\`${examples[name]}\``).join(' and ');
  return [
    {
      id: referencePartsUndeclared.id,
      severity: 'information',
      file: placed.block.file,
      range: shiftRange(
        reference.propertyRanges.get('irradiance') ?? reference.headerRange,
        placed.block.startLine,
      ),
      message:
        `Reference ${reference.name.text} declares ${missing.length > 1 ? 'neither' : 'no'} ${names}: its \`irradiance\` uncertainty is taken to hold what ` +
        `${missing.length > 1 ? 'they add' : 'it adds'}, and the budget counts 0 beside it. If it is that of the calibration alone, write ` +
        `${written} with figures of your own.${alignmentExample(missing.includes('alignment'), sweep)}`,
      related: [{ place: sweep.place, message: 'Used here.' }],
    },
  ];
}

/** What 1 deg would come to: tan(i) for every radian (see instrumentUncertainties.ts). */
function alignmentExample(isMissing: boolean, { address, analysis }: CheckedSweep): string {
  const { incidence } = analysis.conditions;
  if (!isMissing || incidence === undefined || incidence > 80) return '';
  const percent = Math.tan((incidence * Math.PI) / 180) * (Math.PI / 180) * 100;
  return ` At the ${incidence.toFixed(0)} deg of sweep ${address}, 1 deg of alignment is ${percent.toFixed(1)} % of the irradiance.`;
}
