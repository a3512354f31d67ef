/** What a name stands for, with its main values. */
import { stringOf } from '../campaign/names.js';
import type {
  CampaignEntry,
  CriteriaRecord,
  InstrumentRecord,
  ModuleRecord,
  Placed,
  StringRecord,
} from '../campaign/model.js';
import type { Quantity, Uncertainty } from '../campaign/quantity.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import { formatPercent, formatValue } from './formatNumber.js';
import { escapeMarkdown } from './markdownText.js';
import { limitsText, quantityText, timeText } from './sweepTexts.js';
import { countsLine, verdictMark } from './verdictWords.js';
import { siteWindows } from './windowTable.js';

type Fact = readonly [name: string, value: string | undefined];

/** `name` is the word that was pointed at: one string of a run, or an address. */
export function recordMarkdown(evaluation: Evaluation, { record }: Placed, name: string): string {
  const title = 'title' in record && record.title !== undefined ? `: ${escapeMarkdown(record.title)}` : '';
  const facts = factsOf(evaluation, record, name)
    .filter((fact): fact is readonly [string, string] => fact[1] !== undefined && fact[1] !== '')
    .map(([label, value]) => `- ${label} ${escapeMarkdown(value)}`);
  const shown =
    'names' in record ? shownOfRun(record.names, name) : 'name' in record ? record.name.text : name;
  return [`**${record.kind} ${escapeMarkdown(shown)}**${title}`, facts.join('\n')]
    .filter(Boolean)
    .join('\n\n');
}

/** The string that was pointed at, else the run. */
function shownOfRun(names: readonly string[], pointed: string): string {
  const string = stringOf(pointed);
  if (names.includes(string)) return string;
  return names.length > 1 ? `${names[0]!} .. ${names.at(-1)!}` : (names[0] ?? '');
}

function factsOf(evaluation: Evaluation, record: CampaignEntry, name: string): readonly Fact[] {
  switch (record.kind) {
    case 'campaign':
      return [
        ['client', record.client],
        ['operator', record.operator],
        ['purpose', record.purpose],
        ['', countsLine(evaluation.counts)],
      ];
    case 'site':
      return [
        [
          'position',
          record.latitude === undefined ? undefined : positionText(record.latitude, record.longitude ?? 0),
        ],
        ['elevation', written(record.elevation)],
        ['timezone', record.timezone],
        ...siteWindows(evaluation, record),
      ];
    case 'plane':
      return [
        ['tilt', written(record.tilt)],
        ['azimuth', written(record.azimuth)],
        ['mounting', record.mounting],
        ['sun', sunOnPlane(evaluation, record.name.text)],
      ];
    case 'module':
      return moduleFacts(record);
    case 'string':
      return stringFacts(evaluation, record, stringOf(name));
    case 'tracer':
    case 'reference':
      return instrumentFacts(record);
    case 'criteria':
      return criteriaFacts(record);
    case 'layout':
      return [
        ['delimiter', record.delimiter],
        ['decimal sign', record.decimal],
        ['lines before the header', record.skip === undefined ? undefined : String(record.skip)],
        ['columns', Object.keys(record.columns).join(', ')],
      ];
    default:
      return [];
  }
}

const written = (quantity: Quantity | undefined): string | undefined => quantity && quantityText(quantity);

const positionText = (latitude: number, longitude: number): string =>
  `${Math.abs(latitude)} ${latitude < 0 ? 'S' : 'N'}, ${Math.abs(longitude)} ${longitude < 0 ? 'W' : 'E'}`;

function moduleFacts(record: ModuleRecord): readonly Fact[] {
  return [
    ['technology', record.technology],
    [
      'cells',
      record.cells === undefined
        ? undefined
        : `${record.cells}, substrings ${record.substrings ?? 'not given'}`,
    ],
    ['Pmax', written(record.pmax)],
    ['Isc', written(record.isc)],
    ['Voc', written(record.voc)],
    ['Imp', written(record.imp)],
    ['Vmp', written(record.vmp)],
    ['alpha', coefficient(record.alphaWritten, record.alpha, 'A/K')],
    ['beta', coefficient(record.betaWritten, record.beta, 'V/K')],
    ['gamma', coefficient(record.gammaWritten, record.gamma, 'W/K')],
  ];
}

/** As written, and in absolute units where it was written as a fraction. */
function coefficient(
  quantity: Quantity | undefined,
  absolute: number | undefined,
  unit: string,
): string | undefined {
  if (!quantity) return undefined;
  const converted = quantity.dimension === 'fractionPerKelvin' && absolute !== undefined;
  return quantityText(quantity) + (converted ? ` = ${formatValue(absolute, unit)}` : '');
}

function stringFacts(evaluation: Evaluation, record: StringRecord, name: string): readonly Fact[] {
  const { modules, parallel } = record;
  const type = modules && evaluation.campaign.modules.get(modules.type.text)?.record;
  const power =
    modules && type?.pmax ? formatValue(modules.count * parallel * type.pmax.value, 'W') : undefined;
  const sweeps = evaluation.sweeps.filter((sweep) => stringOf(sweep.address) === name);
  const latest = sweeps.filter((sweep) => sweep.address === name).at(-1);
  return [
    ['modules', modules && `${modules.count} x ${modules.type.text}`],
    ['strings in parallel', parallel > 1 ? String(parallel) : undefined],
    ['nameplate Pmax at STC', power],
    ['plane', record.plane?.text],
    ['feeds', record.feeds],
    ['formerly', record.formerly?.text],
    ['sweeps', String(sweeps.length)],
    [
      'latest',
      latest &&
        `${verdictMark(latest.analysis.verdict).symbol} ${latest.analysis.verdict}, ${timeText(latest.time)}`,
    ],
  ];
}

function instrumentFacts(record: InstrumentRecord): readonly Fact[] {
  return [
    ['serial', record.serial],
    ['calibrated', record.calibrated?.text],
    ['technology', record.technology],
    ['voltage', accuracy(record.voltage, 'V')],
    ['current', accuracy(record.current, 'A')],
    ['irradiance', accuracy(record.irradiance, 'W/m2')],
    ['alignment', accuracy(record.alignment, 'deg')],
    ['spectral', accuracy(record.spectral, 'W/m2')],
    ['temperature', accuracy(record.temperature, 'K')],
  ];
}

function accuracy(uncertainty: Uncertainty | undefined, unit: string): string | undefined {
  if (!uncertainty) return undefined;
  const { value, relative, coverageFactor } = uncertainty;
  return `± ${relative ? formatPercent(value) : formatValue(value, unit, 2)}, k = ${coverageFactor}`;
}

function criteriaFacts(record: CriteriaRecord): readonly Fact[] {
  const { limits } = record;
  const limit = (label: string, own: Parameters<typeof limitsText>[0]): Fact => [
    label,
    own && limitsText(own),
  ];
  return [
    ['procedure', record.procedure],
    ['decision', record.decision],
    limit('Pmax', limits.pmax),
    limit('Isc', limits.isc),
    limit('Voc', limits.voc),
    limit('Imp', limits.imp),
    limit('Vmp', limits.vmp),
    limit('FF', limits.ff),
    limit('irradiance', record.irradiance),
    limit('temperature', record.temperature),
    limit('drift', record.drift),
    limit('incidence', record.incidence),
  ];
}

/** The sun on a plane at its latest sweep whose time and place are known. */
function sunOnPlane(evaluation: Evaluation, plane: string): string | undefined {
  const latest = evaluation.sweeps
    .filter(
      (sweep) => sweep.target.plane?.name.text === plane && sweep.analysis.conditions.incidence !== undefined,
    )
    .at(-1);
  if (!latest) return undefined;
  const { incidence, sunElevation } = latest.analysis.conditions;
  const height = sunElevation === undefined ? '' : `, ${sunElevation.toFixed(1)} deg above the horizon`;
  return `at ${timeText(latest.time)}: incidence ${incidence!.toFixed(1)} deg${height}`;
}
