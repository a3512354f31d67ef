/** The measurement windows of a day as aligned lines for a terminal, and as one line for a hover. */
import {
  measurementWindow,
  type MeasurementWindow,
  type PlaneMoment,
} from '../analysis/measurementWindow.js';
import type { Campaign, CriteriaRecord, SiteRecord } from '../campaign/model.js';
import { criteriaOf, siteOf } from '../campaign/sweepTarget.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import { limitsText } from './sweepTexts.js';
import { alignedRows, printable, type Column } from './terminalText.js';

/** Said wherever an expected irradiance is shown. */
export const clearSkyCaveat =
  'Irradiance: expected under a clear sky (Haurwitz 1946; Erbs, Klein, Duffie 1982; isotropic sky), not a forecast.';

export interface PlaneWindow {
  readonly plane: string;
  readonly window: MeasurementWindow;
}

export interface WindowsOfDay {
  readonly date: string;
  readonly criteria?: CriteriaRecord;
  readonly planes: readonly PlaneWindow[];
}

/** @param criteria those of the campaign unless given; undefined where none apply or several might */
export function windowsOfDay(
  campaign: Campaign,
  date: string,
  criteria: CriteriaRecord | undefined = criteriaOf(undefined, undefined, campaign),
): WindowsOfDay {
  const planes = [...campaign.planes.values()].map(({ record }) => ({
    plane: record.name.text,
    window: measurementWindow(siteOf(record, campaign), record, criteria, date),
  }));
  return { date, criteria, planes };
}

const clock = (moment: PlaneMoment): string => moment.time.slice(11, 16);
const offsetOf = (moment: PlaneMoment): string => moment.time.slice(19);

/** `09:58 to 15:49 (+01:00)`, several joined by `and`; or why there is none. */
export function windowLine(window: MeasurementWindow): string {
  if (window.kind === 'unknown') return `not known. ${window.reason}`;
  if (window.whyNone !== undefined) return `none. ${window.whyNone}`;
  return window.intervals
    .map(({ start, end }) => {
      const same = offsetOf(start) === offsetOf(end);
      return same
        ? `${clock(start)} to ${clock(end)} (${offsetOf(end)})`
        : `${clock(start)} (${offsetOf(start)}) to ${clock(end)} (${offsetOf(end)})`;
    })
    .join(' and ');
}

/** What the window is asked for: `irradiance 700 W/m2 .., incidence .. 45 deg`. */
export function conditionsLine(criteria: CriteriaRecord | undefined): string {
  const asked = [
    criteria?.irradiance && `irradiance ${limitsText(criteria.irradiance)}`,
    criteria?.incidence && `incidence ${limitsText(criteria.incidence)}`,
  ].filter(Boolean);
  if (asked.length > 0) return `${criteria!.name.text}: ${asked.join(', ')}`;
  const what = criteria
    ? `Criteria ${criteria.name.text} ask for neither irradiance nor incidence`
    : 'No criteria apply';
  return `${what}: the time the sun is before the plane`;
}

const columns: readonly Column[] = [
  { title: '', align: 'left' },
  { title: 'time', align: 'left' },
  { title: 'sun elevation', align: 'right' },
  { title: 'sun azimuth', align: 'right' },
  { title: 'incidence', align: 'right' },
  { title: 'irradiance', align: 'right' },
];

const row = (label: string, moment: PlaneMoment): readonly string[] => [
  label,
  clock(moment) + offsetOf(moment),
  `${moment.sunElevation.toFixed(1)} deg`,
  `${moment.sunAzimuth.toFixed(1)} deg`,
  `${moment.incidence.toFixed(1)} deg`,
  `${moment.irradiance.toFixed(0)} W/m2`,
];

/** The windows of a site's planes on the day of its first sweep, for a hover; empty where no sweep has a time. */
export function siteWindows(
  { campaign, sweeps }: Evaluation,
  site: SiteRecord,
): readonly (readonly [label: string, text: string])[] {
  const times = sweeps.filter(({ target }) => target.site === site).flatMap(({ time }) => time ?? []);
  const first = times.reduce<string | undefined>((a, b) => (a === undefined || b < a ? b : a), undefined);
  if (first === undefined) return [];
  const { date, criteria, planes } = windowsOfDay(campaign, first.slice(0, 10));
  const own = planes.filter(({ plane }) => siteOf(campaign.planes.get(plane)?.record, campaign) === site);
  if (own.length === 0) return [];
  return [
    ...own.map(({ plane, window }) => [`window of plane ${plane} on ${date}`, windowLine(window)] as const),
    ['conditions', conditionsLine(criteria)],
    ['', clearSkyCaveat],
  ];
}

/** For each plane its window, and the sun at start, solar noon and end. Ends with a line break. */
export function windowTable(day: WindowsOfDay): string {
  const lines = [`Measurement window on ${day.date}`, printable(conditionsLine(day.criteria))];
  for (const { plane, window } of day.planes) {
    lines.push('', printable(`plane ${plane}: ${windowLine(window)}`));
    if (window.kind === 'unknown') continue;
    const moments = [row('solar noon', window.noon)];
    for (const { start, end } of window.intervals) moments.push(row('start', start), row('end', end));
    moments.sort((a, b) => (a[1]! < b[1]! ? -1 : 1));
    for (const cells of alignedRows(columns, moments)) lines.push(`  ${cells.join('  ').trimEnd()}`);
  }
  return [...lines, '', clearSkyCaveat, ''].join('\n');
}
