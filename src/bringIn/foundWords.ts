/** What was understood of a file, in words and as a curve of a few characters. */
import type { ColumnMap } from '../campaign/model.js';
import { formatValue } from '../presentation/formatNumber.js';
import type { IvCurve } from '../physics/ivCurve.js';
import type { ColumnRole } from '../sweeps/headerWords.js';
import type { RecognisedLayout } from '../sweeps/recogniseLayout.js';
import { missingOf, type FoundTable } from './foundTable.js';
import type { NamedLayout } from './layoutNeeded.js';
import { askedKinds, type Asked } from './tableFacts.js';

const delimiterNames: Readonly<Record<string, string>> = {
  ',': 'comma',
  ';': 'semicolon',
  '\t': 'tab',
  '|': 'bar',
  ' ': 'space',
};

/** `semicolon between fields, decimal comma, 14 lines above the header`. */
export function formWords({ delimiter, decimal, headerLine, dataLine, unitsLine }: RecognisedLayout): string {
  const above = (headerLine ?? dataLine) - 1;
  const lines = `${above} ${above === 1 ? 'line' : 'lines'} above the ${headerLine ? 'header' : 'numbers'}`;
  return [
    `${delimiterNames[delimiter]!} between fields`,
    `decimal ${decimal === ',' ? 'comma' : 'point'}`,
    ...(above === 0 ? [] : [lines]),
    ...(headerLine === undefined ? ['no header'] : []),
    ...(unitsLine === undefined ? [] : [`units in line ${unitsLine}`]),
  ].join(', ');
}

/** `voltage "U" in V, current "I" taken as mA`: the unit as the table says it, else as the layout that is to be written does. */
export function columnWords({ recognised, layout }: FoundTable): string {
  return recognised.columns
    .flatMap(({ role, header, number, unit }) => {
      if (role === undefined) return [];
      const name = header === undefined ? `column ${number}` : `"${header}"`;
      const said = unit === undefined || header?.includes(unit) ? '' : ` in ${unit}`;
      return [`${role} ${name}${unit === undefined ? unitTaken(role, layout) : said}`];
    })
    .join(', ');
}

/** What nobody wrote is told as what it is. */
function unitTaken(role: ColumnRole, layout: NamedLayout | undefined): string {
  const column = layout?.record.columns[role as keyof ColumnMap];
  if (column?.unit === undefined) return '';
  return layout!.lines ? ` taken as ${column.unit}` : ` in ${column.unit} by layout ${layout!.name}`;
}

/** `96 points, Isc 11.21 A, Voc 640.1 V, Pmax 5.274 kW`. */
export function pointWords(found: FoundTable): string {
  if (found.kind === 'sweeps')
    return `${found.count} sweeps of ${found.addresses.length} ${found.addresses.length === 1 ? 'address' : 'addresses'}, ${found.points} points`;
  const { isc, voc, pmax } = found.parameters;
  const power = pmax !== undefined && pmax >= 1000 ? formatValue(pmax / 1000, 'kW') : formatValue(pmax, 'W');
  const points = found.reading.curve.voltage.length;
  return `${points} points, Isc ${formatValue(isc, 'A')}, Voc ${formatValue(voc, 'V')}, Pmax ${power}`;
}

const names: Readonly<Record<Asked, string>> = {
  address: 'address',
  time: 'time',
  irradiance: 'irradiance',
  temperature: 'temperature',
};

/** `812 W/m2 (line 4), 44.1 degC cell (line 5)`: each known thing with its source. */
export function factWords(found: FoundTable): string {
  return askedKinds
    .flatMap((asked) => {
      const { fact } = found.facts[asked];
      return fact ? [`${fact.text ?? names[asked]} (${fact.source})`] : [];
    })
    .join(', ');
}

/** `irradiance, temperature (line 5 does not say whether cell or back of module)`; empty where nothing is missing. */
export function missingWords(found: FoundTable): string {
  return missingOf(found)
    .map((asked) => {
      const { doubt } = found.facts[asked];
      return doubt === undefined ? names[asked] : `${names[asked]} (${doubt})`;
    })
    .join(', ');
}

const levels = '▁▂▃▄▅▆▇█';

/** Current over voltage, from 0 to its largest, in so many block characters. */
export function curveInCharacters({ voltage, current }: IvCurve, width = 16): string {
  const most = current.reduce((a, b) => Math.max(a, b), 0);
  const end = voltage[voltage.length - 1] ?? 0;
  if (!(most > 0) || !(end > 0)) return '';
  let at = 0;
  return Array.from({ length: width }, (_, column) => {
    const wanted = (end * column) / (width - 1);
    while (at < voltage.length - 1 && Math.abs(voltage[at + 1]! - wanted) <= Math.abs(voltage[at]! - wanted))
      at++;
    const level = Math.round((current[at]! / most) * (levels.length - 1));
    return levels[Math.min(levels.length - 1, Math.max(0, level))]!;
  }).join('');
}
