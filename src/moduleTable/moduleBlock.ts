/** A row of a module table as a `module` block of the notation. */
import type { Technology } from '../campaign/model.js';
import { resolveCampaign } from '../campaign/resolveCampaign.js';
import { parseDocument } from '../syntax/document.js';
import type { Problem } from '../text/problem.js';
import { notationName, quoted } from './notationName.js';
import type { ModuleRow } from './readModuleTable.js';

/** The words of the table for a technology, folded to lower case. What is not here is left out of the block, and said. */
const technologies: Readonly<Record<string, Technology>> = {
  'mono-c-si': 'mono-Si',
  'multi-c-si': 'multi-Si',
  'hit-si': 'HJT',
  'a-si': 'a-Si',
  '1-a-si': 'a-Si',
  '2-a-si': 'a-Si',
  '3-a-si': 'a-Si',
  cdte: 'CdTe',
  cigs: 'CIGS',
  cis: 'CIS',
  gaas: 'GaAs',
};

/** The notation's word for a technology of the table: `Mono-c-Si` is `mono-Si`. */
export function technologyOf(written: string | undefined): Technology | undefined {
  return written === undefined ? undefined : technologies[written.trim().toLowerCase()];
}

/** A plain decimal number; undefined for anything else. */
function number(text: string | undefined): number | undefined {
  if (text === undefined || !/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text)) return undefined;
  const value = Number(text);
  return Number.isFinite(value) ? value : undefined;
}

/** W: what the table calls STC, else the product of Imp and Vmp. */
export function maximumPower(row: ModuleRow): number | undefined {
  const stated = number(row.stcPower);
  if (stated !== undefined && stated > 0) return stated;
  const [imp, vmp] = [number(row.imp), number(row.vmp)];
  return imp === undefined || vmp === undefined ? undefined : imp * vmp;
}

/** Without the last bits that binary arithmetic adds, and never in exponent form. */
const plain = (value: number): string => {
  const text = String(Number(value.toPrecision(12)));
  return text.includes('e') ? value.toFixed(15).replace(/\.?0+$/, '') : text;
};

/** Where a row was found, for the note. */
export interface TableSource {
  /** Name of the file. */
  readonly file: string;
  readonly line: number;
}

/**
 * The block, ending in a line break. A line whose value the notation refuses is left out and named in a comment, so the block
 * reads without an error, except that it is incomplete where the table lacks a value that translation needs. Isc, Voc, Imp, Vmp are written as in the table; alpha and beta in mA/K and mV/K. Left out on
 * purpose: R_s of the table, which belongs to the five-parameter model and is not Rs of IEC 60891; T_NOCT, which is not
 * NMOT of IEC 61215; substrings, which the table does not know.
 * @param taken names that are used already; the block takes another, and its name is added
 */
export function moduleBlock(row: ModuleRow, source: TableSource, taken: Set<string> = new Set()): string {
  const lines = [...propertyLines(row), `  note       ${quoted(sourceNote(source))}`];
  const header = `module ${freeName(notationName(row.name), taken)} ${quoted(row.name)}`;
  return withoutRefused([header, ...lines, ...commentLines(row)]).join('\n') + '\n';
}

function freeName(wanted: string, taken: Set<string>): string {
  let name = wanted;
  for (let count = 2; taken.has(name); count++) name = `${wanted}_${count}`;
  taken.add(name);
  return name;
}

const sourceNote = ({ file, line }: TableSource): string =>
  `From the module table ${file}, line ${line}; compare with the label.`;

function propertyLines(row: ModuleRow): string[] {
  const lines: string[] = [];
  const write = (name: string, value: number | undefined, unit = '', scale = 1): void => {
    if (value === undefined) return;
    lines.push(`  ${name.padEnd(10)} ${plain(value * scale)}${unit && ` ${unit}`}`);
  };
  const technology = technologyOf(row.technology);
  if (technology) lines.push(`  technology ${technology}`);
  write('cells', number(row.cells));
  write('Pmax', maximumPower(row), 'W');
  write('Isc', number(row.isc), 'A');
  write('Voc', number(row.voc), 'V');
  write('Imp', number(row.imp), 'A');
  write('Vmp', number(row.vmp), 'V');
  write('alpha', number(row.alpha), 'mA/K', 1000);
  write('beta', number(row.beta), 'mV/K', 1000);
  write('gamma', number(row.gamma), '%/K');
  return lines;
}

function commentLines(row: ModuleRow): string[] {
  const comments: string[] = [];
  const say = (text: string): void => void comments.push(`  # ${text.replace(/\p{C}+/gu, ' ')}`);
  say(
    'Not in the table: substrings (bypass diodes) and the tolerance of Pmax. Take them from the data sheet.',
  );
  if (number(row.stcPower) === undefined) say('Pmax is Imp times Vmp.');
  if (row.technology !== undefined && !technologyOf(row.technology))
    say(`The table calls the technology "${row.technology}", for which the notation has no word.`);
  if (/^(1|y|yes|true)$/i.test(row.bifacial ?? ''))
    say('The table calls the module bifacial: write its bifaciality from the data sheet.');
  const values = { N_s: row.cells, alpha_sc: row.alpha, beta_oc: row.beta, gamma_r: row.gamma };
  const rated = { I_sc_ref: row.isc, V_oc_ref: row.voc, I_mp_ref: row.imp, V_mp_ref: row.vmp };
  for (const [name, text] of Object.entries({ ...values, ...rated })) {
    if (text === undefined) say(`The table gives no ${name}.`);
    else if (number(text) === undefined) say(`The table writes "${text}" for ${name}, which is no number.`);
  }
  return comments;
}

/** The block as the notation reads it: every line that causes an error becomes a comment that says which. */
function withoutRefused(block: readonly string[]): readonly string[] {
  const lines = [...block];
  for (let round = 0; round < block.length; round++) {
    const refused = problemsOf(lines).find(
      ({ severity, range }) => severity === 'error' && range.start.line > 0,
    );
    if (!refused) return lines;
    const at = refused.range.start.line;
    lines[at] = `  # Left out: ${lines[at]!.trim().replace(/\s+/g, ' ')}. ${refused.message}`;
  }
  return lines;
}

/** What the notation says of a block. */
export function problemsOf(lines: readonly string[]): readonly Problem[] {
  const document = parseDocument(lines.join('\n') + '\n');
  return resolveCampaign({ file: '', document, includes: [] }).problems;
}
