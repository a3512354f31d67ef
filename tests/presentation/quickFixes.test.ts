/** Every problem has a fix that was seen to work here, or a reason why there is none. */
import { describe, expect, it } from 'vitest';
import { blockKeywords } from '../../src/campaign/keywords.js';
import { checks } from '../../src/checks/index.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import type { FileReader } from '../../src/evaluation/ports.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import { inSeriesParallel, sampleCurve } from '../../src/physics/singleDiode.js';
import {
  fixAll,
  fixers,
  mendedWhereFound,
  quickFixes,
  withoutFix,
  type Fix,
  type FixHost,
} from '../../src/presentation/quickFixes.js';
import { withoutStops } from '../../src/presentation/snippetText.js';
import { problemsFound } from './problemIds.js';
import { nameplatePoints } from '../nameplate.js';

type Files = Readonly<Record<string, string>>;
const root = '/f/a.sweepbook';

function reader(files: Files): FileReader {
  return {
    read: (file) => {
      const text = files[file];
      return Promise.resolve(
        text === undefined
          ? { ok: false as const, reason: 'missing' as const }
          : { ok: true as const, bytes: new TextEncoder().encode(text) },
      );
    },
    resolve: (_, relative) => (relative.startsWith('..') ? undefined : `/f/${relative}`),
    displayName: (file) => file.slice(3),
  };
}

async function evaluated(files: Files): Promise<{ evaluation: Evaluation; host: FixHost }> {
  const source = reader(files);
  const workbook = new Workbook(source);
  const evaluation = await workbook.evaluate(root);
  const host: FixHost = {
    document: (file) => workbook.document(file),
    resolve: (from, relative) => source.resolve(from, relative),
    paths: (kind) => {
      const ending = kind === 'table' ? '.csv' : '.sweepbook';
      return Promise.resolve(
        Object.keys(files)
          .filter((file) => file.endsWith(ending))
          .map((file) => file.slice(3)),
      );
    },
    read: (file) =>
      Promise.resolve(files[file] === undefined ? undefined : new TextEncoder().encode(files[file])),
  };
  return { evaluation, host };
}

/** The files after a fix, a 5 put in at every empty tab stop. */
function applied(files: Files, fix: Fix): Files {
  const result: Record<string, string> = { ...files };
  const offset = (text: string, line: number, character: number): number => {
    let at = 0;
    for (let count = 0; count < line; count++) {
      const next = text.indexOf('\n', at);
      if (next < 0) return text.length;
      at = next + 1;
    }
    return Math.min(at + character, text.length);
  };
  const placed = fix.edits.map((edit) => {
    const text = files[edit.file]!;
    const { start, end } = edit.range;
    const put = edit.isSnippet ? withoutStops(edit.text.replace(/\$\d+/g, '5')) : edit.text;
    return {
      file: edit.file,
      from: offset(text, start.line, start.character),
      to: offset(text, end.line, end.character),
      put,
    };
  });
  for (const { file, from, to, put } of placed.sort((a, b) => b.from - a.from))
    result[file] = result[file]!.slice(0, from) + put + result[file]!.slice(to);
  return result;
}

const plant = `site fen
  position 52.4012 N, 0.2618 E
  timezone Europe/London
plane south
  tilt 12 deg
  azimuth 174 deg
`;
const nameplate = `  technology mono-Si
  cells 54
  substrings 3
  Pmax 408.4 W
${nameplatePoints}`;
const module = `module M
${nameplate}  alpha 0.045 %/K
  beta -0.27 %/K
  gamma -0.35 %/K
`;
const base = `${plant}${module}string S1
  modules 18 x M
tracer T1
  voltage ± 0.5 %
  current ± 0.5 %
reference RC1
  irradiance ± 2 %
  alignment ± 1 deg
  spectral ± 1 %
  temperature ± 1 K
criteria acceptance
  Pmax -5 % ..
`;
const header = 'sweep S1 at 2026-05-14 11:42\n';
const conditions = '  irradiance 812 W/m2\n  temperature 44.1 degC cell\n  with T1, RC1\n';
const swept = `${header}${conditions}`;

const generator = {
  photocurrent: 13.91 * 0.812,
  saturationCurrent: 2.9e-10,
  seriesResistance: 0.17,
  shuntResistance: 320,
  thermalVoltage: 1.455,
};
const curve = sampleCurve(inSeriesParallel(generator, 18, 1), 100);

/** A table of the curve, its rows written by `row`. */
const table = (head: string, row: (v: number, i: number, at: number) => string): string =>
  `${head}\n${Array.from(curve.voltage, (v, at) => row(v, curve.current[at]!, at)).join('\n')}\n`;
const comma = (value: number, digits: number): string => value.toFixed(digits).replace('.', ',');
const plainTable = table('V (V),I (A)', (v, i) => `${v.toFixed(3)},${i.toFixed(4)}`);

interface Case {
  readonly id: string;
  readonly text: string;
  /** What the first fix is called. */
  readonly title: RegExp;
  readonly files?: Files;
}

const one = (id: string, text: string, title: RegExp, files?: Files): Case => ({ id, text, title, files });
const inSweep = (line: string): string => `${base}${header}${line}\n  data "a.csv"\n`;
const ofModule = (from: string, to: string): string => base.replace(from, to);
const read = (name: string, more = ''): string => `${base}${swept}  data "${name}"\n${more}`;
const withLayout = (layout: string, name = 'a.csv'): string =>
  `${base}layout l\n${layout}${swept}  data "${name}"\n  layout l\n`;

const kanal = table(
  'Nr;Kanal 1;Kanal 2;Kanal 3',
  (v, i, at) => `${at + 1};${comma(i, 4)};${comma(v, 3)};${comma(v * i, 1)}`,
);

const cases: readonly Case[] = [
  one('address/malformed', `${base}note S1/m11 "x"\n`, /^Write `S1\/11`$/),
  one('address/section-reversed', `${base}note S1/9-1 "x"\n`, /Exchange/),
  one(
    'criteria/ambiguous',
    `campaign c\n${base}criteria other\n  Pmax -8 % ..\n${swept}  data "a.csv"\n`,
    /`criteria acceptance` in the campaign/,
  ),
  one('criteria/missing', `${base.replace(/criteria[^]*$/, '')}${swept}  data "a.csv"\n`, /usual limits/),
  one('data/missing', read('sweeps/a.csv'), /^Write `"a.csv"`$/),
  one('include/cycle', `include "a.sweepbook"\n${base}`, /Remove/),
  one('include/unreadable', `include "modul.sweepbook"\n${base}`, /"modules.sweepbook"/, {
    '/f/modules.sweepbook': '',
  }),
  one('compare/unreadable', `campaign c\n  compare "earlyer.sweepbook"\n${base}`, /"earlier.sweepbook"/, {
    '/f/earlier.sweepbook': '',
  }),
  one('instrument/parts-undeclared', read('a.csv').replace(/ {2}alignment.*\n/, ''), /Add `alignment`/),
  one('layout/column', withLayout('  voltage U\n'), /^Write `"U"`$/),
  one('module/estimated', ofModule('  alpha 0.045 %/K\n  beta -0.27 %/K\n', ''), /Add `alpha`, `beta`/),
  one('module/incomplete', ofModule('  Voc 37.20 V\n', ''), /Add `Voc`/),
  one('name/malformed', `${base}plane a/b\n  tilt 1 deg\n  azimuth 1 deg\n`, /^Write `a-b`$/),
  one('name/quoted', `${base}layout "l"\n`, /Remove the quotes/),
  one('name/twice', `${base}layout l\nlayout l\n`, /^Write `l-2`$/),
  one('name/unknown', base.replace('18 x M', '18 x KF999'), /Create the module block `KF999`/),
  one('name/unknown', `${swept}${base.replace('18 x M', '18 x MM')}`, /Write `M`/),
  one('name/unknown', `${base}${swept.replace('RC1', 'Q')}  data "a.csv"\n`, /Create the tracer block `Q`/),
  one('name/unknown', read('a.csv', '  criteria strict\n'), /Create the criteria block `strict`/),
  one('name/unknown', `${base}sweep S9 at 2026-05-14 11:42\n${conditions}  data "a.csv"\n`, /Write `S1`/),
  one('nameplate/alpha-large', ofModule('0.045 %/K', '6.3 %/K'), /^Write `6.3 mA\/K`$/),
  one(
    'nameplate/alpha-negative',
    ofModule('alpha 0.045 %/K\n  beta -0.27', 'alpha -0.27 %/K\n  beta 0.045'),
    /Exchange alpha and beta/,
  ),
  one('nameplate/beta-large', ofModule('-0.27 %/K', '-100 %/K'), /^Write `-100 mV\/K`$/),
  one('nameplate/beta-positive', ofModule('-0.27', '0.27'), /^Write `-0.27`$/),
  one('nameplate/beta-small', ofModule('-0.27 %/K', '-0.0027 %/K'), /^Write `-0.0027 1\/K`$/),
  one('nameplate/gamma-large', ofModule('-0.35 %/K', '-1.43 %/K'), /^Write `-1.43 W\/K`$/),
  one('nameplate/gamma-positive', ofModule('-0.35', '+0.35'), /^Write `-0.35`$/),
  one('nameplate/gamma-small', ofModule('-0.35 %/K', '-0.0035 %/K'), /^Write `-0.0035 1\/K`$/),
  one('nameplate/imp-above-isc', ofModule('Isc 13.90', 'Isc 12.90'), /Exchange Imp and Isc/),
  one('nameplate/vmp-above-voc', ofModule('Voc 37.20', 'Voc 30.20'), /Exchange Vmp and Voc/),
  one('nameplate/voltage-per-cell', ofModule('cells 54', 'cells 108'), /^Write `cells 54`$/),
  one('plane/incomplete', `${base}plane p\n  tilt 3 deg\n`, /Add `azimuth`/),
  one(
    'plane/site-missing',
    `${base}site other\n  position 1 N, 1 E\n  timezone Europe/Paris\n`,
    /^Write `site fen`$/,
  ),
  one(
    'property/repeated',
    `${base}plane p\n  tilt 3 deg\n  tilt 4 deg\n  azimuth 1 deg\n`,
    /Remove the line/,
  ),
  one('property/unknown', `${base}plane p\n  tild 3 deg\n  azimuth 1 deg\n`, /^Write `tilt`$/),
  one('reference/unknown', `${base}sweeps from "m.csv"\n${conditions}`, /Create the string block `S7`/, {
    '/f/m.csv': table(
      'Address,Time,V (V),I (A)',
      (v, i) => `S7,2026-05-14 11:42,${v.toFixed(3)},${i.toFixed(4)}`,
    ),
  }),
  one('site/direction-missing', base.replace('0.2618 E', '0.2618'), /^Write `0.2618 E`$/),
  one(
    'site/direction-missing',
    base.replace('52.4012 N, 0.2618 E', '0.2618 E, 52.4012 N'),
    /^Write `52.4012 N, 0.2618 E`$/,
  ),
  one('site/incomplete', base.replace('  timezone Europe/London\n', ''), /Add `timezone`/),
  one('site/unknown-timezone', base.replace('Europe/London', 'Europe/Londn'), /Europe\/London/),
  one('string/incomplete', `${base}string S2\n`, /Add `modules`/),
  one('string/modules', base.replace('18 x M', 'M x 18'), /^Write `18 x M`$/),
  one('string/modules', base.replace('18 x M', '18 M'), /^Write `18 x M`$/),
  one('string/modules', base.replace('18 x M', '18xM'), /Put spaces/),
  one('string/plane-missing', `${base}plane north\n  tilt 1 deg\n  azimuth 1 deg\n`, /^Write `plane south`$/),
  one('string/run', `${base}string A9 .. A1\n  modules 18 x M\n`, /^Write `A1 .. A9`$/),
  one('sweep/ambiguous-column', read('two.csv'), /Add a layout: voltage from column 1/, {
    '/f/two.csv': table(
      'V (V),Voltage 2 (V),I (A)',
      (v, i) => `${v.toFixed(3)},${(v / 2).toFixed(3)},${i.toFixed(4)}`,
    ),
  }),
  // Headers that no line of the notation can hold are named by their columns.
  one('sweep/ambiguous-column', read('bidi.csv'), /Add a layout: voltage from column 1/, {
    '/f/bidi.csv': table(
      'V\u202e (V),Voltage 2 (V),I\u202e (A)',
      (v, i) => `${v.toFixed(3)},${(v / 2).toFixed(3)},${i.toFixed(4)}`,
    ),
  }),
  one('sweep/columns-exchanged', read('x.csv'), /Add a layout: voltage from column 2/, {
    '/f/x.csv': table('# nothing', (v, i) => `${i.toFixed(4)},${v.toFixed(3)}`),
  }),
  one('sweep/conditions-missing', `${base}${header}  data "a.csv"\n`, /Add `irradiance`, `temperature`/),
  one(
    'sweep/conditions-missing',
    `${base}${header}  points V, A\n    0 8\n`,
    /Add `irradiance`, `temperature`/,
  ),
  one('sweep/data-missing', `${base}${swept}`, /^Write `data "a.csv"`$/),
  one(
    'sweep/data-twice',
    `${base}${swept}  data "a.csv"\n  points V, A\n    0 8.5\n    1 8.4\n  remark "x"\n`,
    /Remove the points/,
  ),
  one('sweep/duplicate-header', read('d.csv'), /Add a layout: voltage from column 2/, {
    '/f/d.csv': table('U,U,I', (v, i) => `${(v / 18).toFixed(3)},${v.toFixed(3)},${i.toFixed(4)}`),
  }),
  one(
    'sweep/instrument-twice',
    read('a.csv').replace('T1, RC1', 'T1, T2, RC1').replace('tracer T1', 'tracer T2\ntracer T1'),
    /Remove `T2`/,
  ),
  one(
    'sweep/no-address-column',
    `${base}sweeps from "m.csv"\n  address "Nr"\n${conditions}`.replace(
      '  address "Nr"\n',
      '  time "When"\n',
    ),
    /^Write `address "Unit"`$/,
    {
      '/f/m.csv': table(
        'Unit,When,V (V),I (A)',
        (v, i) => `S1,2026-05-14 11:42,${v.toFixed(3)},${i.toFixed(4)}`,
      ),
    },
  ),
  one(
    'sweep/no-time-column',
    `${base}sweeps from "m.csv"\n  address "Unit"\n${conditions}`,
    /^Write `time "When"`$/,
    {
      '/f/m.csv': table(
        'Unit,When,V (V),I (A)',
        (v, i) => `S1,2026-05-14 11:42,${v.toFixed(3)},${i.toFixed(4)}`,
      ),
    },
  ),
  one(
    'sweep/no-voltage-column',
    read('kanal.csv'),
    /voltage from column 3 "Kanal 2" in V, current from column 2 "Kanal 1" in A, decimal comma/,
    { '/f/kanal.csv': kanal },
  ),
  one('sweep/no-current-column', read('half.csv'), /current from column 2 "Signal" in A/, {
    '/f/half.csv': table('Nr;U [V];Signal', (v, i, at) => `${at};${comma(v, 3)};${comma(i, 4)}`)
      .replace('Nr;U [V];Signal', 'U [V];Signal;Nr')
      .replace(/^(\d+);([\d,]+);([\d,-]+)$/gm, '$2;$3;$1'),
  }),
  one('sweep/no-such-column', withLayout('  voltage "Volt"\n'), /^Write `voltage "V \(V\)"` in layout `l`$/),
  one('sweep/pin-length-missing', inSweep('  pin-shadow 18 mm,'), /Add the pin/),
  one(
    'sweep/rear-irradiance-missing',
    read('a.csv').replace('  substrings 3\n', '  substrings 3\n  bifaciality 70 %\n'),
    /Add `rear`/,
  ),
  one('sweep/rear-irradiance-unused', read('a.csv', '  rear 90 W/m2\n'), /Add `bifaciality` to `M`/),
  one(
    'sweep/sign-contradiction',
    withLayout('  sign negative\n'),
    /^(Write `sign positive` in|Remove `sign` from) layout `l`$/,
  ),
  one('sweep/swapped-columns', read('s.csv'), /Add a layout: voltage from column 2 "I \(A\)"/, {
    '/f/s.csv': table('V,I', (v, i) => `${i.toFixed(4)},${v.toFixed(3)}`).replace('V,I', 'V (V),I (A)'),
  }),
  one('sweep/temperature-kind', inSweep('  temperature 44 degC back'), /^Write `cell`$/),
  one('sweep/temperature-kind', inSweep('  temperature 44 degC'), /^Add `cell`$/),
  one(
    'sweep/too-few-points',
    withLayout('  decimal point\n', 'k.csv'),
    /^(Write `decimal comma` in|Remove `decimal` from) layout `l`$/,
    {
      '/f/k.csv': table('V (V);I (A)', (v, i) => `${comma(v, 2)};${comma(i, 2)}`),
    },
  ),
  one(
    'sweep/unclear-number',
    withLayout('  decimal point\n', 'k.csv'),
    /^(Write `decimal comma` in|Remove `decimal` from) layout `l`$/,
    {
      '/f/k.csv': table('V (V);I (A)', (v, i) => `${comma(v, 3)};${comma(i, 4)}`),
    },
  ),
  one(
    'sweep/implausible-voltage',
    read('mv.csv'),
    /voltage from column 1 "V" in mV, current from column 2 "I" in A,/,
    {
      '/f/mv.csv': table('V;I', (v, i) => `${(v * 1000).toFixed(0)};${i.toFixed(4)}`),
    },
  ),
  one('sweep/implausible-current', read('ma.csv'), /current from column 2 "I" in mA/, {
    '/f/ma.csv': table('V;I', (v, i) => `${v.toFixed(3)};${(i * 1000).toFixed(0)}`),
  }),
  one('sweeps/incomplete', `${base}sweeps from "m.csv"\n${conditions}`, /^Write `address "Unit"`$/, {
    '/f/m.csv': table(
      'Unit,When,V (V),I (A)',
      (v, i) => `S1,2026-05-14 11:42,${v.toFixed(3)},${i.toFixed(4)}`,
    ),
  }),
  one('sweep/unit-contradiction', withLayout('  voltage "V (V)" mV\n'), /^Write `voltage "V \(V\)"/),
  one('sweep/wrong-unit', read('w.csv'), /Add a layout: voltage from column 1/, {
    '/f/w.csv': table('Voltage [A],Current [A]', (v, i) => `${v.toFixed(3)},${i.toFixed(4)}`),
  }),
  one('sweep/wrong-skip', withLayout('  skip 3 lines\n'), /^Write `skip 0 lines` in layout `l`$/),
  one('sweeps/from-missing', `${base}sweeps "a.csv"\n`, /Put `from`/),
  one('syntax/conflict-marker', `${base}>>>>>>> other\n`, /^Remove the line$/),
  one('syntax/indented-block', `${base} layout l\n`, /Move to the start/),
  one('syntax/merge-conflict', `${base}<<<<<<< a\n=======\nlayout l\n>>>>>>> b\n`, /above \(a\)$/),
  one('syntax/no-header', `  layout l\n${base}`, /Move to the start/),
  one('syntax/not-indented', `${base}skip 3 lines\n`, /Indent the line/),
  one('syntax/stray-character', `${base}layout l\u202e\n`, /Remove the character/),
  one('syntax/typographic-quote', `${base}layout l “x”\n`, /straight quotes/),
  one('syntax/unclosed-quote', `${base}layout l "x\n`, /Close the quote/),
  one('syntax/unknown-block', `${base}layuot l\n`, /^Write `layout`$/),
  one('time/ambiguous', `${base}note S1 at 2026-10-25 01:30 "x"\n`, /Add \+01:00/),
  one('time/malformed', `${base}note S1 at 14.05.2026 9:42 "x"\n`, /^Write `2026-05-14 09:42`$/),
  one('time/malformed', `${base}note S1 at 2026-05-14T11:42 "x"\n`, /Put a space/),
  one('time/malformed', `${base}layout l\ntracer T2\n  calibrated 3/14/2026\n`, /^Write `2026-03-14`$/),
  one('time/missing', `${base}replace S1/3 2026-05-14 11:42\n`, /Put `at`/),
  one('time/missing', `${base}replace S1/3\n`, /Add the time/),
  one('time/nonexistent', `${base}note S1 at 2026-03-29 01:30 "x"\n`, /Add /),
  one('unit/missing', inSweep('  irradiance 812'), /^Add W\/m2$/),
  one('unit/missing', `${base}tracer T2\n  interval 12\n`, /^Add `months`$/),
  one('unit/unknown', inSweep('  temperature 111 degF cell'), /^Convert to `43.89 degC`$/),
  one('unit/unknown', inSweep('  irradiance 812 W/m3'), /^Write `W\/m2`$/),
  one('unit/wrong-dimension', inSweep('  temperature 317.25 K cell'), /^Convert to `44.1 degC`$/),
  one('unit/wrong-dimension', ofModule('-0.27 %/K', '-0.27 %'), /^Write `%\/K`$/),
  one('unit/wrong-dimension', inSweep('  irradiance 812 W'), /^Write `W\/m2`$/),
  one('value/arrow-missing', `${base}replace S1/3 at 2026-05-14 11:42\n  serial "a" "b"\n`, /Put an arrow/),
  one('value/arrow-missing', `${base}replace S1/3 at 2026-05-14 11:42\n  serial "a" > "b"\n`, /Put an arrow/),
  one(
    'value/comma-missing',
    `${base}string S2\n  modules 18 x M\n  cable 48 m 4 mm2, copper\n`,
    /Put a comma/,
  ),
  one('value/coverage-factor', inSweep('  irradiance 812 W/m2 ± 2 % k=9'), /^Write `k=2`$/),
  one('value/decimal-comma', inSweep('  irradiance 812,5 W/m2'), /^Write `812.5`$/),
  one('value/missing', `${base}criteria c\n  decision\n`, /^Write `decision simple`$/),
  one('value/missing', `${base}plane p\n  azimuth 3 deg\n  tilt\n`, /^Write `tilt … deg`$/),
  one('value/missing', `${base}string S2\n  modules\n`, /^Write `modules … x M`$/),
  one('value/missing', `${base}string S2\n  modules 18 x M\n  plane\n`, /^Write `plane south`$/),
  one('value/negative-uncertainty', inSweep('  irradiance 812 W/m2 ± -2 %'), /^Write `2 %`$/),
  one('value/not-a-count', ofModule('cells 54', 'cells 54.0'), /^Write `54`$/),
  one('value/not-a-number', `${base}criteria c\n  Pmax > -5 %\n`, /^Write `-5 % ..`$/),
  one('unit/unknown', inSweep("  irradiance 1'012 W/m2"), /^Write `1012`$/),
  one(
    'value/out-of-range',
    ofModule('  substrings 3\n', '  substrings 3\n  bifaciality 70\n'),
    /^Write `70 %`$/,
  ),
  one('value/out-of-range', base.replace('0.2618 E', '-0.2618 E'), /^Write `0.2618 W`$/),
  one('value/plus-minus-missing', `${base}tracer T2\n  voltage 0.5 %\n`, /Write ±/),
  one('value/quotes-missing', inSweep('  remark thin cloud'), /Put it in quotes/),
  one('value/range-empty', `${base}criteria c\n  Pmax ..\n`, /Remove the line/),
  one('value/range-missing', `${base}criteria c\n  Pmax -5 %\n`, /At least/),
  one('value/range-reversed', `${base}criteria c\n  Pmax 5 % .. -5 %\n`, /^Write `-5 % .. 5 %`$/),
  one('value/surplus', inSweep('  irradiance 812 W/m2 today'), /Remove it/),
  one('value/tolerance', ofModule('408.4 W', '408.4 W 3 % .. -0 %'), /^Write `-0 % .. 3 %`$/),
  one('value/tolerance', ofModule('408.4 W', '408.4 W .. 3 %'), /^Write `± 3 %`$/),
  one('value/unknown-word', `${base}criteria c\n  decision simpel\n`, /^Write `simple`$/),
];

const filesOf = ({ text, files }: Case): Files => ({ '/f/a.csv': plainTable, ...files, [root]: text });

describe('a quick fix', () => {
  it.each(cases.map((each, index) => [`${each.id} (${index})`, each] as const))(
    'mends %s',
    async (_, each) => {
      const files = filesOf(each);
      const { evaluation, host } = await evaluated(files);
      const count = (of: Evaluation) => of.problems.filter(({ id }) => id === each.id).length;
      const problem = evaluation.problems.find(({ id }) => id === each.id);
      expect(evaluation.problems.map(({ id, message }) => `${id}: ${message}`).join('\n')).toContain(each.id);
      const [first] = await quickFixes(problem!, evaluation, host);
      expect(first?.title).toMatch(each.title);
      const after = await evaluated(applied(files, first!));
      expect(count(after.evaluation), applied(files, first!)[root]).toBeLessThan(count(evaluation));
    },
  );

  it('of a table adds a layout with which the sweep is read', async () => {
    const files: Files = {
      '/f/logger-1.csv': kanal,
      '/f/logger-2.csv': kanal,
      [root]: `${read('logger-1.csv')}${swept.replace('11:42', '11:52')}  data "logger-2.csv"\n`,
    };
    const { evaluation, host } = await evaluated(files);
    const problem = evaluation.problems.find(({ id }) => id === 'sweep/no-voltage-column')!;
    const [first] = await quickFixes(problem, evaluation, host);
    const after = applied(files, first!);
    expect(after[root]).toContain(
      'layout logger\n  delimiter semicolon\n  decimal   comma\n  voltage   "Kanal 2" V\n  current   "Kanal 1" A\n\nsweep',
    );
    const { sweeps } = (await evaluated(after)).evaluation;
    expect(sweeps.map(({ reading }) => reading?.curve.voltage.length)).toEqual([100, 100]);
    expect(sweeps[0]!.reading!.curve.voltage.at(-1)).toBeCloseTo(curve.voltage.at(-1)!, 2);
    // One that is there already is offered first for the next table.
    const next = {
      ...after,
      '/f/logger-3.csv': kanal,
      [root]: `${after[root]}${swept.replace('11:42', '12:02')}  data "logger-3.csv"\n`,
    };
    const again = await evaluated(next);
    const third = again.evaluation.problems.find(({ id }) => id === 'sweep/no-voltage-column')!;
    expect((await quickFixes(third, again.evaluation, again.host))[0]!.title).toBe('Write `layout logger`');
  });

  it('takes no unit for granted that the nameplate speaks against', async () => {
    const milli = table('a;b', (v, i) => `${(v * 1000).toFixed(0)};${(i * 1000).toFixed(0)}`);
    const { evaluation, host } = await evaluated({ '/f/m.csv': milli, [root]: read('m.csv') });
    const problem = evaluation.problems.find(({ id }) => id === 'sweep/no-voltage-column')!;
    const [first] = await quickFixes(problem, evaluation, host);
    expect(first!.title).toContain('voltage from column 1 "a" in mV, current from column 2 "b" in mA');
  });

  it('leaves tables alone that no layout helps', async () => {
    const { evaluation, host } = await evaluated({
      '/f/n.csv': 'a;b\n1;2\n3;4\n5;6\n',
      [root]: read('n.csv'),
    });
    for (const problem of evaluation.problems)
      expect(await quickFixes(problem, evaluation, host)).toEqual([]);
  });

  it('is not worked out for a problem that the text no longer has', async () => {
    const { evaluation, host } = await evaluated({ [root]: `${base}plane p\n  tilt\n` });
    const problem = evaluation.problems.find(({ id }) => id === 'value/missing')!;
    expect(await quickFixes(problem, evaluation, { ...host, document: () => undefined })).toEqual([]);
    const moved = {
      ...problem,
      range: { start: { line: 900, character: 0 }, end: { line: 900, character: 3 } },
    };
    expect(await quickFixes(moved, evaluation, host)).toEqual([]);
  });
});

describe('all at once', () => {
  const text = `${base}${header}  irradiance 812,5 W/m2\n  temperature 44,1 degC cell\n  remark thin cloud\n  data “a.csv”\n  decision simpel\n`;
  it('mends what is merely written otherwise', async () => {
    const files = { '/f/a.csv': plainTable, [root]: text };
    const { evaluation } = await evaluated(files);
    const after = applied(files, fixAll(evaluation.problems, root)!)[root]!;
    expect(after).toContain(
      '812.5 W/m2\n  temperature 44.1 degC cell\n  remark "thin cloud"\n  data "a.csv"\n  decision simpel',
    );
    const kind = applied(files, fixAll(evaluation.problems, root, 'value/decimal-comma')!)[root]!;
    expect(kind).toBe(text.replace('812,5', '812.5').replace('44,1', '44.1'));
    expect(fixAll(evaluation.problems, root, 'value/unknown-word')).toBeUndefined();
    expect(fixAll([], root)).toBeUndefined();
  });
});

describe('every problem there is', () => {
  const ids = problemsFound(blockKeywords, checks);

  it('is mended or says why not, and none of these is made up', () => {
    const known = new Set([...Object.keys(fixers), ...mendedWhereFound, ...Object.keys(withoutFix)]);
    expect([...ids].filter((id) => !known.has(id))).toEqual([]);
    expect([...known].filter((id) => !ids.has(id))).toEqual([]);
    expect(Object.keys(withoutFix).filter((id) => id in fixers || mendedWhereFound.has(id))).toEqual([]);
  });

  it('that is mended was seen mended here', () => {
    const seen = new Set(cases.map(({ id }) => id));
    const mended = new Set([...Object.keys(fixers), ...mendedWhereFound]);
    // What these complain of appears beside others that are mended first.
    const unseen = [...mended].filter((id) => !seen.has(id));
    expect(unseen).toEqual([]);
  });
});
