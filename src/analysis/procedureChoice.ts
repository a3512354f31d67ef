/** Which procedure brings a sweep to STC, and why. */
import type { ModuleRecord, ProcedureName, SweepTarget } from '../campaign/model.js';
import { procedure1Limits } from '../physics/procedure1Resistance.js';
import type { Correction, ModuleScience } from './moduleScience.js';
import type { Reason } from './sweepAnalysis.js';

export interface ProcedureChoice {
  readonly name: ProcedureName;
  /** What corrects the curve; in an interpolation, its temperature. */
  readonly correction: Correction;
  readonly reasons: readonly Reason[];
}

/** What the criteria name; `auto` takes what the nameplate knows most for. */
export function chooseProcedure(
  { criteria, module }: SweepTarget,
  science: ModuleScience | undefined,
): ProcedureChoice {
  const wanted = criteria?.procedure ?? 'auto';
  const known = science?.procedures;
  switch (wanted) {
    case 'IEC60891-1':
      return { name: wanted, correction: 1, reasons: [] };
    case 'IEC60891-2':
      return { name: wanted, correction: 2, reasons: [] };
    case 'IEC60891-3':
      return { name: wanted, correction: known && !known[1] ? 'junction' : 1, reasons: [] };
    case 'Hishikawa-2018':
      return { name: wanted, correction: 'junction', reasons: [] };
    case 'auto':
      if (known && !known[1]) {
        return chosen(
          'Hishikawa-2018',
          'junction',
          'by the voltage-temperature relation of the single-junction cell (Hishikawa et al. 2018)',
          'the nameplate gives no beta, and this relation does without it for crystalline silicon',
        );
      }
      return automatic(module, science);
  }
}

/**
 * Procedure 1 where one Rs serves both Pmax and Voc, else procedure 2, which has B1 and B2 for Voc. Rs or kappa written without B1
 * are those of procedure 1.
 */
function automatic(module: ModuleRecord | undefined, science: ModuleScience | undefined): ProcedureChoice {
  const by1 = (why: string) => chosen('IEC60891-1', 1, 'by IEC 60891 procedure 1', why);
  const by2 = (why: string) => chosen('IEC60891-2', 2, 'by IEC 60891 procedure 2', why);
  const hasB1 = module?.b1 !== undefined;
  if (hasB1 && module.rs && module.kappa) return by2('the nameplate gives Rs, kappa and B1');
  if (module?.rs ?? module?.kappa)
    return by1('the nameplate gives Rs or kappa, and not all that procedure 2 needs');
  const fit = science?.resistance1;
  if (!fit) return by1('it needs the fewest coefficients');
  return fit.share <= 1
    ? by1(`by the model of the nameplate one Rs keeps ${aims}`)
    : by2(`by the model of the nameplate no Rs of procedure 1 keeps ${aims}`);
}

const { pmax, voc } = procedure1Limits;
const aims = `Pmax within ${100 * pmax} % and Voc within ${100 * voc} % from 800 W/m2`;

function chosen(name: ProcedureName, correction: Correction, how: string, why: string): ProcedureChoice {
  const text = `Translated ${how}, chosen since ${why}.`;
  return { name, correction, reasons: [{ code: 'procedure-chosen', text, decisive: false }] };
}

/** Why the nameplate does not carry the procedure; undefined when it does. */
export function procedureObstacle(
  { name, correction }: ProcedureChoice,
  science: ModuleScience,
  module: string,
): string | undefined {
  if (science.procedures?.[correction]) return undefined;
  if (correction === 'junction') {
    return `Procedure ${name} is for crystalline silicon: module ${module} declares no such technology with its cells.`;
  }
  return `Module ${module} lacks beta, which procedure ${name} needs; procedure auto does without.`;
}
