/** From header and decoded properties to the records of model.ts: one line for each property. */
import type { Range } from '../text/place.js';
import { coefficient } from './coefficients.js';
import type {
  CampaignEntry,
  ColumnMap,
  CriteriaRecord,
  ElectricalTestRecord,
  InlinePoints,
  InstrumentRecord,
  LayoutRecord,
  ParameterName,
  PlaneRecord,
  Purpose,
  StringRecord,
  SweepRecord,
  SweepTableRecord,
  Technology,
} from './model.js';
import type { Limits } from './quantity.js';
import type { PropertyValues } from './propertyValues.js';
import type { Header } from './readHeader.js';

export interface BuildInput {
  readonly header: Header;
  readonly headerRange: Range;
  readonly values: PropertyValues;
  readonly points?: InlinePoints;
}

type Builder = (input: BuildInput) => CampaignEntry;

/** What every record has. */
function common({ headerRange, values }: BuildInput) {
  return { headerRange, propertyRanges: values.ranges, notes: values.notes };
}

function named(input: BuildInput) {
  return { ...common(input), name: input.header.name!, title: input.header.title };
}

function instrument(kind: InstrumentRecord['kind']): Builder {
  return (input) => ({
    ...named(input),
    kind,
    serial: input.values.get('label', 'serial'),
    technology: input.values.get('choice', 'technology') as Technology | undefined,
    calibrated: input.values.get('date', 'calibrated'),
    intervalMonths: input.values.get('months', 'interval'),
    voltage: input.values.get('uncertainty', 'voltage'),
    current: input.values.get('uncertainty', 'current'),
    irradiance: input.values.get('uncertainty', 'irradiance'),
    alignment: input.values.get('uncertainty', 'alignment'),
    spectral: input.values.get('uncertainty', 'spectral'),
    temperature: input.values.get('uncertainty', 'temperature'),
  });
}

function electricalTest(kind: ElectricalTestRecord['kind']): Builder {
  return (input) => ({
    ...common(input),
    kind,
    address: input.header.address!,
    time: input.header.time,
    resistance: input.values.get('quantity', 'resistance'),
    testVoltage: input.values.get('quantity', 'voltage'),
    result: input.values.get('choice', 'result') as ElectricalTestRecord['result'],
    pole: input.values.get('choice', 'pole') as ElectricalTestRecord['pole'],
    voc: input.values.get('quantity', 'Voc'),
    isc: input.values.get('quantity', 'Isc'),
    irradiance: input.values.get('quantity', 'irradiance'),
    temperature: input.values.get('temperature', 'temperature'),
    with: input.values.get('references', 'with') ?? [],
  });
}

const builders: Readonly<Record<CampaignEntry['kind'], Builder>> = {
  campaign: (input) => ({
    ...named(input),
    kind: 'campaign',
    client: input.values.get('text', 'client')?.text,
    operator: input.values.get('text', 'operator')?.text,
    purpose: input.values.get('choice', 'purpose') as Purpose | undefined,
    compareWith: input.values.get('path', 'compare'),
    criteria: input.values.get('reference', 'criteria'),
  }),
  site: (input) => ({
    ...named(input),
    kind: 'site',
    ...input.values.get('coordinates', 'position'),
    elevation: input.values.get('quantity', 'elevation'),
    timezone: input.values.get('timezone', 'timezone'),
  }),
  plane: (input) => ({
    ...named(input),
    kind: 'plane',
    site: input.values.get('reference', 'site'),
    tilt: input.values.get('quantity', 'tilt'),
    azimuth: input.values.get('quantity', 'azimuth'),
    albedo: input.values.get('quantity', 'albedo'),
    mounting: (input.values.get('choice', 'mounting') ?? 'fixed') as PlaneRecord['mounting'],
  }),
  module: (input) => {
    const quantity = (name: string) => input.values.get('quantity', name);
    const [pmax, isc, voc] = [quantity('Pmax'), quantity('Isc'), quantity('Voc')];
    return {
      ...named(input),
      kind: 'module',
      technology: input.values.get('choice', 'technology') as Technology | undefined,
      cells: input.values.get('count', 'cells'),
      substrings: input.values.get('count', 'substrings'),
      bifaciality: quantity('bifaciality'),
      pmax,
      isc,
      voc,
      imp: quantity('Imp'),
      vmp: quantity('Vmp'),
      alpha: coefficient(quantity('alpha'), isc),
      beta: coefficient(quantity('beta'), voc),
      gamma: coefficient(quantity('gamma'), pmax),
      alphaWritten: quantity('alpha'),
      betaWritten: quantity('beta'),
      gammaWritten: quantity('gamma'),
      rs: quantity('Rs'),
      kappa: quantity('kappa'),
      b1: input.values.get('number', 'B1'),
      b2: input.values.get('number', 'B2'),
      nmot: quantity('NMOT'),
    };
  },
  string: (input): StringRecord => {
    const modules = input.values.get('modules', 'modules');
    return {
      ...named(input),
      kind: 'string',
      names: input.header.names!,
      modules: modules && { ...modules, range: input.values.ranges.get('modules')! },
      parallel: input.values.get('count', 'parallel') ?? 1,
      plane: input.values.get('reference', 'plane'),
      cable: input.values.get('cable', 'cable'),
      feeds: input.values.get('label', 'feeds'),
      formerly: input.values.get('name', 'formerly'),
      position: input.values.get('mapPosition', 'position'),
      criteria: input.values.get('reference', 'criteria'),
    };
  },
  tracer: instrument('tracer'),
  reference: instrument('reference'),
  layout: (input): LayoutRecord => {
    const decimal = input.values.get('choice', 'decimal');
    const header = input.values.get('choice', 'header');
    return {
      ...named(input),
      kind: 'layout',
      delimiter: input.values.get('delimiter', 'delimiter'),
      decimal: decimal === undefined ? undefined : decimal === 'comma' ? ',' : '.',
      skip: input.values.get('count', 'skip'),
      header: header === undefined ? undefined : header === 'yes',
      sign: input.values.get('choice', 'sign') as LayoutRecord['sign'],
      columns: columns(input.values),
    };
  },
  criteria: (input): CriteriaRecord => {
    const limits = (name: string) => input.values.get('limits', name);
    return {
      ...named(input),
      kind: 'criteria',
      procedure: (input.values.get('choice', 'procedure') ?? 'auto') as CriteriaRecord['procedure'],
      decision: (input.values.get('choice', 'decision') ?? 'simple') as CriteriaRecord['decision'],
      tolerance: (input.values.get('choice', 'tolerance') ?? 'ignored') as CriteriaRecord['tolerance'],
      limits: parameterLimits(limits),
      irradiance: limits('irradiance'),
      temperature: limits('temperature'),
      drift: limits('drift'),
      incidence: limits('incidence'),
      spread: limits('spread'),
      insulation: limits('insulation'),
      continuity: limits('continuity'),
      points: input.values.get('count', 'points'),
    };
  },
  // By far the most frequent block: without a spread the object is built several times faster.
  sweep: (input): SweepRecord => ({
    kind: 'sweep',
    headerRange: input.headerRange,
    propertyRanges: input.values.ranges,
    notes: input.values.notes,
    address: input.header.address!,
    time: input.header.time,
    irradiance: input.values.get('quantity', 'irradiance'),
    irradianceAfter: input.values.get('quantity', 'irradiance-after'),
    rearIrradiance: input.values.get('quantity', 'rear'),
    temperature: input.values.get('temperature', 'temperature'),
    temperatureCheck: input.values.get('temperature', 'temperature-check'),
    data: input.values.get('path', 'data'),
    layout: input.values.get('reference', 'layout'),
    points: input.points,
    with: input.values.get('references', 'with') ?? [],
    criteria: input.values.get('reference', 'criteria'),
    tilt: input.values.get('quantity', 'tilt'),
    azimuth: input.values.get('quantity', 'azimuth'),
    pinShadow: input.values.get('pinShadow', 'pin-shadow'),
    remark: input.values.get('text', 'remark')?.text,
    void: input.values.get('text', 'void'),
  }),
  sweeps: (input): SweepTableRecord => {
    const irradiance = input.values.get('columnOrQuantity', 'irradiance');
    const temperature = input.values.get('columnOrTemperature', 'temperature');
    const temperatureColumn = temperature && 'column' in temperature ? temperature : undefined;
    return {
      ...common(input),
      kind: 'sweeps',
      data: input.header.text!,
      layout: input.values.get('reference', 'layout'),
      columns: {
        ...columns(input.values),
        irradiance: irradiance && 'column' in irradiance ? irradiance.column : undefined,
        temperature: temperatureColumn?.column,
        address: input.values.get('column', 'address'),
        time: input.values.get('column', 'time'),
      },
      irradiance: irradiance && 'quantity' in irradiance ? irradiance.quantity : undefined,
      temperature: temperature && 'temperature' in temperature ? temperature.temperature : undefined,
      temperatureKind: temperatureColumn?.kind ?? 'cell',
      temperatureOffset: temperatureColumn?.offset,
      with: input.values.get('references', 'with') ?? [],
      criteria: input.values.get('reference', 'criteria'),
    };
  },
  replace: (input) => ({
    ...common(input),
    kind: 'replace',
    address: input.header.address!,
    time: input.header.time,
    serial: input.values.get('textChange', 'serial'),
    type: input.values.get('typeChange', 'type'),
    reason: input.values.get('text', 'reason')?.text,
  }),
  insulation: electricalTest('insulation'),
  continuity: electricalTest('continuity'),
  polarity: electricalTest('polarity'),
  meter: electricalTest('meter'),
  note: (input) => ({
    ...common(input),
    kind: 'note',
    address: input.header.address,
    time: input.header.time,
    text: input.header.text!,
  }),
  accept: (input) => ({
    ...common(input),
    kind: 'accept',
    address: input.header.address!,
    time: input.header.time,
    reason: input.header.text!,
    by: input.header.by,
  }),
};

export function buildRecord(kind: CampaignEntry['kind'], input: BuildInput): CampaignEntry {
  return builders[kind](input);
}

function columns(values: PropertyValues): ColumnMap {
  return {
    voltage: values.get('column', 'voltage'),
    current: values.get('column', 'current'),
    irradiance: values.get('column', 'irradiance'),
    temperature: values.get('column', 'temperature'),
  };
}

export const parameterKeywords: readonly (readonly [ParameterName, string])[] = [
  ['isc', 'Isc'],
  ['voc', 'Voc'],
  ['imp', 'Imp'],
  ['vmp', 'Vmp'],
  ['pmax', 'Pmax'],
  ['ff', 'FF'],
];

function parameterLimits(limits: (name: string) => Limits | undefined): CriteriaRecord['limits'] {
  const written = parameterKeywords.map(([parameter, keyword]) => [parameter, limits(keyword)] as const);
  return Object.fromEntries(written.filter(([, each]) => each !== undefined));
}
