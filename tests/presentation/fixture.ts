/**
 * A small evaluation built by hand, without parser and evaluation: what the presentation gets to show. Every number is
 * invented; curves come from the single-diode model.
 */
import { judge } from '../../src/analysis/verdict.js';
import type { SweepAnalysis, SweepConditions } from '../../src/analysis/sweepAnalysis.js';
import type {
  BlockPlace,
  Campaign,
  CampaignRecord,
  CriteriaRecord,
  InstrumentRecord,
  ModuleRecord,
  Placed,
  ReplaceRecord,
  StringRecord,
  SweepRecord,
} from '../../src/campaign/model.js';
import { emptyCampaign } from '../../src/campaign/resolveCampaign.js';
import type { Dimension, Quantity } from '../../src/campaign/quantity.js';
import type { StringCase } from '../../src/cases/stringCase.js';
import type { EvaluatedSweep, Evaluation, VerdictCounts } from '../../src/evaluation/evaluation.js';
import {
  characteristicPoints,
  inSeriesParallel,
  sampleCurve,
  type SingleDiode,
} from '../../src/physics/singleDiode.js';
import type { CurveParameters } from '../../src/physics/ivCurve.js';
import { rangeOnLine, type Range } from '../../src/text/place.js';
import type { FileProblem } from '../../src/text/problem.js';

export const file = '/fen/harrow-fen.sweepbook';

export const text = `campaign harrow-fen "Harrow Fen, <b>commissioning</b>"
  client "Fenside Growers & Sons"
  purpose commissioning

module KF108M "Kestrel [Foundry](command:x) 108M"
  Pmax 408.4 W ± 3 %
  beta -0.27 %/K

string 1.03 .. 1.05 "Roof south"
  modules 18 x KF108M

tracer T1
  calibrated 2026-01-12

criteria acceptance
  Pmax -5 % ..
  irradiance 700 W/m2 ..

sweep 1.03 at 2026-05-14 11:42
  irradiance 812 W/m2
  temperature 44.1 degC cell
  data "sweeps/1.03-first.csv"
  with T1
  note "Before replacement."

sweep 1.03/11 at 2026-05-14 12:31
  irradiance 845 W/m2
  data "sweeps/1.03-m11.csv"

replace 1.03/11 at 2026-05-14 13:10
  serial "KF-22817" -> "KF-31904"

sweep 1.03 at 2026-05-14 13:42
  irradiance 866 W/m2
  data "sweeps/1.03-after.csv"

sweep 1.04 at 2026-05-14 14:02
  irradiance 871 W/m2
  data "sweeps/1.04.csv"

sweep 1.05 at 2026-05-14 17:55
  irradiance 312 W/m2
  data "sweeps/1.05.csv"

sweep 1.05 at 2026-05-14 18:10
  irradiance 280 W/m2
  data "sweeps/1.05-b.csv"
  void "Cloud edge."
`;

const lines = text.split('\n');

/** Where a header that begins so stands, and its block. */
function block(header: string): BlockPlace {
  const startLine = lines.findIndex((line) => line.startsWith(header));
  let endLine = startLine;
  while (/^\s+\S/.test(lines[endLine + 1] ?? '')) endLine++;
  return { file, startLine, endLine };
}

/** Block-relative range of a piece of text. */
function rangeOf(place: BlockPlace, piece: string): Range {
  for (let line = place.startLine; line <= place.endLine; line++) {
    const start = lines[line]!.indexOf(piece);
    if (start >= 0) return rangeOnLine(line - place.startLine, start, start + piece.length);
  }
  throw new Error(`fixture: no "${piece}" from line ${place.startLine}`);
}

function common(place: BlockPlace) {
  const propertyRanges = new Map<string, Range>();
  for (let line = place.startLine + 1; line <= place.endLine; line++) {
    const keyword = /\S+/.exec(lines[line]!)!;
    propertyRanges.set(
      keyword[0],
      rangeOnLine(line - place.startLine, keyword.index, keyword.index + keyword[0].length),
    );
  }
  return { headerRange: rangeOnLine(0, 0, lines[place.startLine]!.length), propertyRanges, notes: [] };
}

function quantity(place: BlockPlace, piece: string, value: number, dimension: Dimension): Quantity {
  const [number, unit] = [parseFloat(piece), piece.split(' ')[1]!];
  return { value, dimension, unit, writtenValue: number, range: rangeOf(place, piece) };
}

const named = (place: BlockPlace, name: string) => ({
  ...common(place),
  name: { text: name, range: rangeOf(place, name) },
});

const campaignBlock = block('campaign');
const moduleBlock = block('module');
const stringBlock = block('string');
const tracerBlock = block('tracer');
const criteriaBlock = block('criteria');
const replaceBlock = block('replace');

const campaignRecord: CampaignRecord = {
  ...named(campaignBlock, 'harrow-fen'),
  kind: 'campaign',
  title: 'Harrow Fen, <b>commissioning</b>',
  client: 'Fenside Growers & Sons',
  purpose: 'commissioning',
};
const moduleRecord: ModuleRecord = {
  ...named(moduleBlock, 'KF108M'),
  kind: 'module',
  title: 'Kestrel [Foundry](command:x) 108M',
  pmax: {
    ...quantity(moduleBlock, '408.4 W', 408.4, 'power'),
    uncertainty: { value: 0.03, relative: true, coverageFactor: 2 },
  },
  beta: -0.1004,
  betaWritten: quantity(moduleBlock, '-0.27 %/K', -0.0027, 'fractionPerKelvin'),
};
const stringRecord: StringRecord = {
  ...named(stringBlock, '1.03'),
  kind: 'string',
  title: 'Roof south',
  names: ['1.03', '1.04', '1.05'],
  parallel: 1,
  modules: {
    count: 18,
    type: { text: 'KF108M', range: rangeOf(stringBlock, 'KF108M') },
    range: rangeOf(stringBlock, '18 x KF108M'),
  },
};
const tracerRecord: InstrumentRecord = {
  ...named(tracerBlock, 'T1'),
  kind: 'tracer',
  calibrated: { text: '2026-01-12', range: rangeOf(tracerBlock, '2026-01-12') },
};
const criteriaRecord: CriteriaRecord = {
  ...named(criteriaBlock, 'acceptance'),
  kind: 'criteria',
  procedure: 'IEC60891-1',
  decision: 'guarded',
  tolerance: 'ignored',
  limits: {
    pmax: {
      least: quantity(criteriaBlock, '-5 %', -0.05, 'fraction'),
      range: rangeOf(criteriaBlock, '-5 % ..'),
    },
  },
  irradiance: {
    least: quantity(criteriaBlock, '700 W/m2', 700, 'irradiance'),
    range: rangeOf(criteriaBlock, '700 W/m2 ..'),
  },
};
const replaceRecord: ReplaceRecord = {
  ...common(replaceBlock),
  kind: 'replace',
  address: { text: '1.03/11', string: '1.03', first: 11, range: rangeOf(replaceBlock, '1.03/11') },
  time: { iso: '2026-05-14T13:10:00', range: rangeOf(replaceBlock, '2026-05-14 13:10') },
  serial: { old: 'KF-22817', new: 'KF-31904' },
  reason: 'substring bypassed, glass intact',
};

/** One module at STC, near its nameplate. */
const moduleModel: SingleDiode = {
  photocurrent: 13.91,
  saturationCurrent: 2.2e-11,
  seriesResistance: 0.168,
  shuntResistance: 320,
  thermalVoltage: 1.3685,
};
const relativeUncertainty = { isc: 0.021, voc: 0.0062, imp: 0.022, vmp: 0.0068, pmax: 0.023, ff: 0.008 };

function parameters(model: SingleDiode, factor = 1): CurveParameters {
  const points = characteristicPoints(model);
  return { ...points, imp: points.imp * factor, pmax: points.pmax * factor, ff: points.ff * factor };
}

interface Told {
  readonly header: string;
  readonly address: string;
  readonly irradiance: number;
  readonly cellTemperature: number;
  readonly series: number;
  /** Of the translated maximum power and its current. */
  readonly health: number;
  readonly void?: string;
  readonly problems?: readonly FileProblem[];
}

function sweep(told: Told): EvaluatedSweep {
  const place = block(told.header);
  const [, string, position] = /^([^/]+)(?:\/(\d+))?$/.exec(told.address)!;
  const first = position === undefined ? undefined : Number(position);
  const clock = /\d\d:\d\d/.exec(told.header)![0];
  const written = `${told.irradiance} W/m2`;
  const record: SweepRecord = {
    ...common(place),
    kind: 'sweep',
    address: { text: told.address, string: string!, first, range: rangeOf(place, told.address) },
    time: { iso: `2026-05-14T${clock}:00`, range: rangeOf(place, `2026-05-14 ${clock}`) },
    irradiance: quantity(place, written, told.irradiance, 'irradiance'),
    data: { text: `sweeps/${told.address}.csv`, range: rangeOf(place, lines[place.startLine]!) },
    with: [],
    void: told.void === undefined ? undefined : { text: told.void, range: rangeOf(place, 'void') },
    notes: told.header.includes('11:42')
      ? [{ text: 'Before replacement.', range: rangeOf(place, '"Before replacement."') }]
      : [],
  };
  return {
    id: `${file}:${place.startLine + 1}`,
    address: told.address,
    time: `2026-05-14T${clock}:00+01:00`,
    instant: Date.parse(`2026-05-14T${clock}:00+01:00`),
    record,
    block: place,
    place: { file, range: rangeOnLine(place.startLine, 0, lines[place.startLine]!.length) },
    dataFile: `/fen/sweeps/${told.address.replace('/', '-m')}.csv`,
    target: {
      string: stringRecord,
      module: moduleRecord,
      criteria: criteriaRecord,
      tracer: tracerRecord,
      wholeString: !told.address.includes('/'),
      seriesModules: told.series,
      parallelStrings: 1,
    },
    analysis: analysis(told),
    problems: told.problems ?? [],
  };
}

function analysis(told: Told): SweepAnalysis {
  const stc = inSeriesParallel(moduleModel, told.series, 1);
  const light = told.irradiance / 1000;
  const warm: SingleDiode = {
    ...stc,
    photocurrent: stc.photocurrent * light,
    saturationCurrent: stc.saturationCurrent * 2 ** ((told.cellTemperature - 25) / 5.2),
  };
  const dim = (model: SingleDiode) => {
    const curve = sampleCurve(model, 60);
    // A weak device: the knee is worn, the ends stay.
    const knee = (index: number) =>
      1 - (1 - told.health) * Math.exp(-((curve.voltage[index]! / curve.voltage[59]! - 0.84) ** 2) / 0.02);
    return { voltage: curve.voltage, current: curve.current.map((value, index) => value * knee(index)) };
  };
  const nameplate = parameters(stc);
  const translated = parameters(stc, told.health);
  const conditions: SweepConditions = {
    irradiance: told.irradiance,
    irradianceUncertainty: 0.02,
    cellTemperature: told.cellTemperature,
    temperatureUncertainty: 1.2,
    temperatureSource: 'cell',
    points: 60,
    incidence: 31.27,
    sunElevation: 52.1,
  };
  const deviation = {
    isc: translated.isc! / nameplate.isc! - 1,
    voc: translated.voc! / nameplate.voc! - 1,
    imp: translated.imp! / nameplate.imp! - 1,
    vmp: translated.vmp! / nameplate.vmp! - 1,
    pmax: translated.pmax! / nameplate.pmax! - 1,
    ff: translated.ff! / nameplate.ff! - 1,
  };
  const judged = judge({ criteria: criteriaRecord, conditions, deviation, uncertainty: relativeUncertainty });
  return {
    conditions,
    measured: { curve: dim(warm), parameters: parameters(warm, told.health), flags: [], noise: 0.006 },
    translated: {
      curve: dim(stc),
      parameters: translated,
      flags: [
        { code: 'continued-to-voc', text: 'The translated curve was continued from 0.41 A to zero current.' },
      ],
      to: { irradiance: 1000, cellTemperature: 25 },
      procedure: 'IEC60891-1',
      estimates: [
        {
          symbol: 'Rs',
          value: 0.168 * told.series,
          unit: 'ohm',
          method: 'five-parameter model of the nameplate (De Soto 2006)',
        },
        {
          symbol: 'kappa',
          value: 0.00071 * told.series,
          unit: 'ohm/K',
          method: 'so that the nameplate maximum power obeys gamma',
        },
      ],
      continuedFrom: 57,
    },
    nameplate,
    expected: sampleCurve(stc, 60),
    deviation,
    uncertainty: relativeUncertainty,
    budget: [
      {
        kind: 'irradiance',
        source: 'Irradiance, reference RC1',
        standardUncertainty: 0.01,
        unit: '1',
        contribution: { isc: 0.01, voc: 0.0005, imp: 0.01, vmp: 0, pmax: 0.0101, ff: 0 },
      },
      {
        kind: 'temperature',
        source: 'Cell temperature',
        standardUncertainty: 0.6,
        unit: 'K',
        contribution: { isc: 0.0003, voc: 0.0016, imp: 0.0002, vmp: 0.0019, pmax: 0.0021, ff: 0.0005 },
      },
    ],
    ...(told.void === undefined
      ? judged
      : {
          verdict: 'void' as const,
          reasons: [{ code: 'void', text: `Set aside: ${told.void}`, decisive: true }],
        }),
  };
}

const dataProblem: FileProblem = {
  file,
  id: 'sweep/short-of-voc',
  severity: 'warning',
  message: 'The points end at 0.41 A; Voc is extrapolated. Let the sweep run to zero current.',
  range: rangeOnLine(block('sweep 1.04').startLine + 2, 7, 24),
  related: [
    {
      place: { file: '/fen/sweeps/1.04.csv', range: rangeOnLine(59, 0, 12) },
      message: 'the last point is here',
    },
  ],
};
const unknownProblem: FileProblem = {
  file,
  id: 'reference/unknown',
  severity: 'error',
  message: 'No reference is named RC1. Known: T1.',
  range: rangeOnLine(block('tracer').startLine, 7, 9),
};

const sweeps: readonly EvaluatedSweep[] = [
  sweep({
    header: 'sweep 1.03 at 2026-05-14 11:42',
    address: '1.03',
    irradiance: 812,
    cellTemperature: 44.1,
    series: 18,
    health: 0.918,
  }),
  sweep({
    header: 'sweep 1.03/11 at 2026-05-14 12:31',
    address: '1.03/11',
    irradiance: 845,
    cellTemperature: 46,
    series: 1,
    health: 0.66,
  }),
  sweep({
    header: 'sweep 1.03 at 2026-05-14 13:42',
    address: '1.03',
    irradiance: 866,
    cellTemperature: 46.8,
    series: 18,
    health: 0.996,
  }),
  sweep({
    header: 'sweep 1.04 at 2026-05-14 14:02',
    address: '1.04',
    irradiance: 871,
    cellTemperature: 47.2,
    series: 18,
    health: 0.939,
    problems: [dataProblem],
  }),
  sweep({
    header: 'sweep 1.05 at 2026-05-14 17:55',
    address: '1.05',
    irradiance: 312,
    cellTemperature: 28.4,
    series: 18,
    health: 0.99,
  }),
  sweep({
    header: 'sweep 1.05 at 2026-05-14 18:10',
    address: '1.05',
    irradiance: 280,
    cellTemperature: 27.9,
    series: 18,
    health: 0.99,
    void: 'Cloud edge.',
  }),
];

const count = (verdict: string): number =>
  sweeps.filter(({ analysis: { verdict: own } }) => own === verdict).length;
const counts: VerdictCounts = {
  pass: count('pass'),
  conditionalPass: count('conditional pass'),
  conditionalFail: count('conditional fail'),
  fail: count('fail'),
  notJudged: count('not judged'),
  void: count('void'),
};

const placedCampaign: Placed<CampaignRecord> = { record: campaignRecord, block: campaignBlock };
const placedModule: Placed<ModuleRecord> = { record: moduleRecord, block: moduleBlock };
const placedString: Placed<StringRecord> = { record: stringRecord, block: stringBlock };
const placedTracer: Placed<InstrumentRecord> = { record: tracerRecord, block: tracerBlock };
const placedCriteria: Placed<CriteriaRecord> = { record: criteriaRecord, block: criteriaBlock };
const placedSweeps = sweeps.map((own) => ({ record: own.record as SweepRecord, block: own.block }));

const declared = [placedCampaign, placedModule, placedString, placedTracer, placedCriteria];
const placedReplace = { record: replaceRecord, block: replaceBlock };

const campaign: Campaign = {
  entries: [...declared, ...placedSweeps, placedReplace],
  declarations: [...declared, placedReplace],
  meaning: {},
  campaign: placedCampaign,
  sites: new Map(),
  planes: new Map(),
  modules: new Map([['KF108M', placedModule]]),
  strings: new Map(stringRecord.names.map((name) => [name, placedString])),
  instruments: new Map([['T1', placedTracer]]),
  layouts: new Map(),
  criteria: new Map([['acceptance', placedCriteria]]),
  sweeps: placedSweeps,
  sweepTables: [],
};

/** The life of 1.03, as src/cases would tell it. */
const cases: readonly StringCase[] = [
  {
    string: '1.03',
    state: 'verified',
    openedBy: sweeps[0]!,
    closedBy: sweeps[2]!,
    modules: Array.from({ length: 18 }, (_, index) => {
      const position = index + 1;
      return position === 11
        ? { position, status: 'replaced', because: 'Replaced at 2026-05-14 13:10.', serial: 'KF-31904' }
        : { position, status: 'untested', because: 'No sweep of it.' };
    }),
    events: sweeps.slice(0, 3).map((own) => ({
      kind: 'sweep',
      time: own.time!,
      address: own.address,
      text: `Pmax ${own.analysis.verdict}.`,
      place: own.place,
      sweep: own,
    })),
  },
  {
    string: '1.05',
    state: 'open',
    modules: [],
    events: [],
    proposal: {
      kind: 'repeat',
      addresses: ['1.05'],
      text: 'Repeat the sweep of 1.05 in more light.',
      why: 'It was not judged.',
      disconnects: true,
    },
  },
];

export const evaluation: Evaluation = {
  revision: 3,
  root: file,
  files: [file],
  dataFiles: sweeps.map((own) => own.dataFile!),
  campaign,
  sweeps,
  cases,
  compositions: new Map(),
  peerGroups: [],
  counts,
  electricalTests: [],
  electricalCounts: { pass: 0, fail: 0, notJudged: 0 },
  problems: [unknownProblem, dataProblem],
};

export const display = (name: string): string => name.replace('/fen/', '');

/** An evaluation without anything in it. */
export const empty: Evaluation = {
  revision: 1,
  root: file,
  files: [file],
  dataFiles: [],
  campaign: emptyCampaign,
  sweeps: [],
  cases: [],
  compositions: new Map(),
  peerGroups: [],
  counts: { pass: 0, conditionalPass: 0, conditionalFail: 0, fail: 0, notJudged: 0, void: 0 },
  electricalTests: [],
  electricalCounts: { pass: 0, fail: 0, notJudged: 0 },
  problems: [],
};
