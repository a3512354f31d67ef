/** A campaign in memory with one string, evaluated as a whole. All names and values are invented. */
import { Workbook } from '../../src/evaluation/workbook.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import type { FileReader } from '../../src/evaluation/ports.js';
import type { FileProblem } from '../../src/text/problem.js';

export interface Small {
  readonly site?: string;
  readonly plane?: string;
  readonly module?: string;
  readonly reference?: string;
  /** Blocks of sweeps; `data` and `temperature` are added to each `sweep` block. */
  readonly sweeps: string;
  readonly files?: Readonly<Record<string, string>>;
}

/** Site and surface of the worked example of NREL/TP-560-34302. */
export const golden = `  position 39.742476 N, 105.1786 W
  elevation 1830.14 m
  timezone America/Denver`;
export const surface = '  tilt 30 deg\n  azimuth 170 deg';

const points = Array.from({ length: 60 }, (_, index) => {
  const voltage = index * 0.63;
  return `${voltage.toFixed(2)},${Math.max(0, 11 * (1 - Math.exp((voltage - 36) / 1.6))).toFixed(3)}`;
});

export async function evaluate(small: Small): Promise<Evaluation> {
  const text = `site s
${small.site ?? golden}
plane p
${small.plane ?? surface}
module M1
${small.module ?? '  technology mono-Si'}
  cells 54
  Pmax 408.4 W
  Isc 13.90 A
  Voc 37.20 V
  Imp 13.09 A
  Vmp 31.20 V
  alpha 0.045 %/K
  beta -0.27 %/K
  gamma -0.35 %/K
string A
  modules 1 x M1
reference RC1
${small.reference ?? '  serial "1"'}
criteria c
  Pmax -50 % ..
${small.sweeps.replace(/^(sweep .*)$/gm, '$1\n  temperature 40 degC cell\n  with RC1')}
`;
  const files: Readonly<Record<string, string>> = { 'c.sweepbook': text, ...small.files };
  const reader: FileReader = {
    read: (file) =>
      Promise.resolve(
        file in files || file.endsWith('.csv')
          ? {
              ok: true as const,
              bytes: new TextEncoder().encode(files[file] ?? `V (V),I (A)\n${points.join('\n')}\n`),
            }
          : { ok: false as const, reason: 'missing' as const },
      ),
    resolve: (_from, relative) => relative,
    displayName: (file) => file,
  };
  const evaluation = await new Workbook(reader).evaluate('c.sweepbook');
  const errors = evaluation.problems.filter(({ severity }) => severity === 'error');
  if (errors.length > 0) throw new Error(errors.map(({ id, message }) => `${id}: ${message}`).join('\n'));
  return evaluation;
}

/** The problems of one id. */
export async function problemsOf(id: string, small: Small): Promise<readonly FileProblem[]> {
  return (await evaluate(small)).problems.filter((problem) => problem.id === id);
}
