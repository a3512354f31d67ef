/** A campaign in memory, read by the real notation and evaluation. All names and numbers are invented. */
import type { OpenFile } from '../../src/presentation/editorTypes.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import type { FileReader } from '../../src/evaluation/ports.js';
import { inSeriesParallel, sampleCurve } from '../../src/physics/singleDiode.js';
import type { Position } from '../../src/text/place.js';
import { nameplateCoefficients, nameplatePoints } from '../nameplate.js';

export const root = '/fen/fen.sweepbook';
export const library = '/fen/modules.sweepbook';

export const rootText = `include "modules.sweepbook"
campaign fen "Fen [click](command:x) <img src=x>"
  client "Fenside Growers"
  purpose commissioning

site fen
  position 52.4012 N, 0.2618 E
  timezone Europe/London

plane south
  tilt 12 deg
  azimuth 174 deg

string 1.01 .. 1.03 "Roof | south"
  modules 18 x KF108M
  plane south

tracer T1
  voltage ± 0.5 %
  current ± 0.5 %

reference RC1
  irradiance ± 2 %
  temperature ± 1 K

criteria acceptance
  Pmax -5 % ..
  irradiance 700 W/m2 ..
  decision guarded

sweep 1.03 at 2026-05-14 11:42
  irradiance 812 W/m2 ± 2 %
  temperature 44.1 degC cell
  data "1.03.csv"
  with T1, RC1

replace 1.03/11 at 2026-05-14 13:10
  serial "A" -> "B"
`;

const libraryText = `module KF108M "Kestrel Foundry 108M"
  technology mono-Si
  cells 54
  substrings 3
  Pmax 408.4 W ± 3 %
${nameplatePoints}${nameplateCoefficients}`;

function csv(): string {
  const module = {
    photocurrent: 13.91 * 0.812,
    saturationCurrent: 2.9e-10,
    seriesResistance: 0.17,
    shuntResistance: 320,
    thermalVoltage: 1.455,
  };
  const { voltage, current } = sampleCurve(inSeriesParallel(module, 18, 1), 100);
  const rows = Array.from(voltage, (value, index) => `${value.toFixed(3)},${current[index]!.toFixed(4)}`);
  return `V (V),I (A)\n${rows.join('\n')}\n`;
}

const files: Readonly<Record<string, string>> = {
  [root]: rootText,
  [library]: libraryText,
  '/fen/1.03.csv': csv(),
};

const resolve = (_from: string, relative: string): string | undefined =>
  relative.startsWith('..') ? undefined : `/fen/${relative}`;

const reader: FileReader = {
  read: (file) => {
    const text = files[file];
    return Promise.resolve(
      text === undefined
        ? { ok: false as const, reason: 'missing' as const }
        : { ok: true as const, bytes: new TextEncoder().encode(text) },
    );
  },
  resolve,
  displayName: (file) => file.replace('/fen/', ''),
};

export const evaluateMemory = (): Promise<Evaluation> => new Workbook(reader).evaluate(root);

/** A file as an editor has it open; `text` where it is not the one that was evaluated. */
export function openFile(file: string, text = files[file]!): OpenFile {
  const lines = text.split('\n');
  return { file, lineAt: (line) => lines[line] ?? '', resolve: (relative) => resolve(file, relative) };
}

/** Where the piece of text stands that `before` leads to: `at('with T1, ', 'RC1')`. */
export function at(before: string, piece: string, text = rootText): Position {
  const start = text.indexOf(before + piece);
  if (start < 0) throw new Error(`no "${before}${piece}"`);
  const upTo = text.slice(0, start + before.length).split('\n');
  return { line: upTo.length - 1, character: upTo.at(-1)!.length };
}
