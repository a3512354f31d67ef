/** When of a day a plane can be measured: from when to when the sun meets what the criteria ask for. */
import type { CriteriaRecord, PlaneRecord, SiteRecord } from '../campaign/model.js';
import type { Limits } from '../campaign/quantity.js';
import { dayInZone, timeInZone } from '../campaign/zonedDay.js';
import { clearSkyInPlane } from '../physics/clearSkyInPlane.js';
import { angleOfIncidence, sunAt, sunTimes, type SunPosition } from '../physics/sunPosition.js';

/** The sun on a plane at a moment. Angles in degrees, irradiance in W/m2. */
export interface PlaneMoment {
  /** Milliseconds since 1970 UTC. */
  readonly instant: number;
  /** ISO 8601 in the zone of the site, with offset. */
  readonly time: string;
  readonly sunElevation: number;
  /** Clockwise from north. */
  readonly sunAzimuth: number;
  readonly incidence: number;
  /** What a clear sky may be expected to give in the plane; see physics/clearSkyInPlane.ts. */
  readonly irradiance: number;
}

/** First and last whole minute, both within the conditions. */
export interface MeasurementInterval {
  readonly start: PlaneMoment;
  readonly end: PlaneMoment;
}

export type MeasurementWindow =
  | {
      readonly kind: 'known';
      readonly intervals: readonly MeasurementInterval[];
      /** The sun at its highest. */
      readonly noon: PlaneMoment;
      /** Why there is no interval; undefined where there is one. */
      readonly whyNone?: string;
    }
  /** Something is missing that the position of the sun or the incidence needs. */
  | { readonly kind: 'unknown'; readonly reason: string };

export type WindowCriteria = Pick<CriteriaRecord, 'irradiance' | 'incidence'>;

const minute = 60_000;
/** Minutes between the moments that are looked at before the ends are refined: a shorter window may be missed. */
const step = 5;

/**
 * The window of `date` (`2026-05-14`, a day in the zone of the site): the sun stands above the horizon and before the plane,
 * and incidence and expected clear-sky irradiance lie within the limits of `criteria`, either of which may be absent. Times
 * to the whole minute. Never throws.
 */
export function measurementWindow(
  site: SiteRecord | undefined,
  plane: PlaneRecord | undefined,
  criteria: WindowCriteria | undefined,
  date: string,
): MeasurementWindow {
  const setting = settingOf(site, plane);
  if ('reason' in setting) return { kind: 'unknown', reason: setting.reason };
  const day = dayInZone(date, setting.zone);
  if (!day) return { kind: 'unknown', reason: `${date} is not a date of the form 2026-05-14.` };
  const count = Math.floor((day.end - day.start) / minute);
  const at = (instant: number): Moment => momentAt(instant, setting);
  const isWithin = (moment: Moment): boolean => meets(moment, criteria);
  const grid = Array.from({ length: Math.ceil(count / step) }, (_, index) => index * step);
  if ((count - 1) % step !== 0) grid.push(count - 1);
  const instants = grid.map((index) => day.start + index * minute);
  const suns = sunsOf(site!, date, () => instants.map((instant) => sunOver(instant, setting)));
  const moments = instants.map((instant, index) => momentOf(instant, suns[index]!, setting));
  const withTime = (moment: Moment): PlaneMoment => ({
    ...moment,
    time: timeInZone(moment.instant, setting.zone),
  });
  const intervals = intervalsOf(moments, isWithin, at).map(([start, end]) => ({
    start: withTime(start),
    end: withTime(end),
  }));
  const noon = withTime(at(sunTimes(day.start, setting.latitude, setting.longitude).transit));
  return intervals.length > 0
    ? { kind: 'known', intervals, noon }
    : { kind: 'known', intervals, noon, whyNone: reasonForNone(moments.map(withTime), criteria) };
}

/** The clock times are written only where they are shown. */
type Moment = Omit<PlaneMoment, 'time'>;

interface Setting {
  readonly latitude: number;
  readonly longitude: number;
  readonly elevation: number;
  readonly zone: string;
  readonly tilt: number;
  readonly azimuth: number;
  readonly albedo: number | undefined;
}

function settingOf(
  site: SiteRecord | undefined,
  plane: PlaneRecord | undefined,
): Setting | { readonly reason: string } {
  if (!site) return { reason: 'No site applies: the position of the sun needs a site block.' };
  const { latitude, longitude, timezone: zone } = site;
  const name = `Site ${site.name.text}`;
  if (latitude === undefined || longitude === undefined) return { reason: `${name} gives no position.` };
  if (zone === undefined) return { reason: `${name} gives no timezone.` };
  const tilt = plane?.tilt?.value;
  const azimuth = plane?.azimuth?.value;
  if (!plane) return { reason: 'No plane applies: the incidence needs a plane block.' };
  if (tilt === undefined || azimuth === undefined) {
    const moves = plane.mounting === 'single-axis' ? ' It turns, and no fixed window follows.' : '';
    return { reason: `Plane ${plane.name.text} gives no tilt and azimuth.${moves}` };
  }
  const elevation = site.elevation?.value ?? 0;
  return { latitude, longitude, elevation, zone, tilt, azimuth, albedo: plane.albedo?.value };
}

const sunOver = (instant: number, { latitude, longitude, elevation }: Setting): SunPosition =>
  sunAt(instant, latitude, longitude, elevation);

const sunsOfDay = new WeakMap<SiteRecord, { readonly date: string; readonly suns: readonly SunPosition[] }>();

/** The sun through a day, remembered for the planes of a site. */
function sunsOf(
  site: SiteRecord,
  date: string,
  compute: () => readonly SunPosition[],
): readonly SunPosition[] {
  const known = sunsOfDay.get(site);
  if (known?.date === date) return known.suns;
  const suns = compute();
  sunsOfDay.set(site, { date, suns });
  return suns;
}

const momentAt = (instant: number, setting: Setting): Moment =>
  momentOf(instant, sunOver(instant, setting), setting);

function momentOf(instant: number, sun: SunPosition, setting: Setting): Moment {
  return {
    instant,
    sunElevation: sun.elevation,
    sunAzimuth: sun.azimuth,
    incidence: angleOfIncidence(setting.tilt, setting.azimuth, sun),
    irradiance: clearSkyInPlane(sun, setting.tilt, setting.azimuth, setting.albedo),
  };
}

const isIn = (value: number, limits: Limits | undefined): boolean =>
  value >= (limits?.least?.value ?? -Infinity) && value <= (limits?.most?.value ?? Infinity);

const isSunOnPlane = (moment: Moment): boolean => moment.sunElevation > 0 && moment.incidence < 90;

function meets(moment: Moment, criteria: WindowCriteria | undefined): boolean {
  return (
    isSunOnPlane(moment) &&
    isIn(moment.irradiance, criteria?.irradiance) &&
    isIn(moment.incidence, criteria?.incidence)
  );
}

/** Runs of moments within, their ends refined to the minute. */
function intervalsOf(
  moments: readonly Moment[],
  isWithin: (moment: Moment) => boolean,
  at: (instant: number) => Moment,
): (readonly [Moment, Moment])[] {
  const intervals: (readonly [Moment, Moment])[] = [];
  let start: Moment | undefined;
  moments.forEach((moment, index) => {
    const before = moments[index - 1];
    const within = isWithin(moment);
    if (within && !start) start = before ? refine(before, moment, isWithin, at) : moment;
    if (!within && start) {
      intervals.push([start, refine(moment, before!, isWithin, at)]);
      start = undefined;
    }
  });
  if (start) intervals.push([start, moments.at(-1)!]);
  return intervals;
}

/** The whole minute nearest to `outside` that is still within. */
function refine(
  outside: Moment,
  inside: Moment,
  isWithin: (moment: Moment) => boolean,
  at: (instant: number) => Moment,
): Moment {
  const apart = Math.round((outside.instant - inside.instant) / minute);
  if (Math.abs(apart) <= 1) return inside;
  const middle = at(inside.instant + Math.trunc(apart / 2) * minute);
  return isWithin(middle) ? refine(outside, middle, isWithin, at) : refine(middle, inside, isWithin, at);
}

function reasonForNone(moments: readonly PlaneMoment[], criteria: WindowCriteria | undefined): string {
  const lit = moments.filter(isSunOnPlane);
  if (lit.length === 0) {
    const up = moments.some((moment) => moment.sunElevation > 0);
    return up ? 'The sun does not reach the front of the plane.' : 'The sun does not rise on this day.';
  }
  const faults = [
    faultOf(lit, 'incidence', criteria?.incidence, 'The incidence', 'deg'),
    faultOf(lit, 'irradiance', criteria?.irradiance, 'The expected irradiance', 'W/m2'),
  ].filter((fault) => fault !== undefined);
  if (faults.length > 0) return faults.join(' ');
  return 'Incidence and expected irradiance satisfy the criteria at different times, never together.';
}

/** Said where no moment of sun satisfies this one condition. */
function faultOf(
  lit: readonly PlaneMoment[],
  quantity: 'incidence' | 'irradiance',
  limits: Limits | undefined,
  subject: string,
  unit: string,
): string | undefined {
  if (!limits || lit.some((moment) => isIn(moment[quantity], limits))) return undefined;
  const values = [...lit].sort((a, b) => a[quantity] - b[quantity]);
  const [lowest, highest] = [values[0]!, values.at(-1)!];
  const { least, most } = limits;
  const show = (moment: PlaneMoment): string =>
    `${moment[quantity].toFixed(0)} ${unit} at ${moment.time.slice(11, 16)}`;
  if (least && highest[quantity] < least.value)
    return `${subject} reaches ${show(highest)} and no more; at least ${least.writtenValue} ${least.unit} is asked for.`;
  if (most && lowest[quantity] > most.value)
    return `${subject} falls to ${show(lowest)} and no lower; at most ${most.writtenValue} ${most.unit} is asked for.`;
  return `${subject} passes between its limits in less than ${step} minutes.`;
}
