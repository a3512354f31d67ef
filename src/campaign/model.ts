/**
 * What a campaign says, after decoding and before anything is computed. Every record keeps where it was written. All
 * ranges inside a record are relative to the first line of its block; `BlockPlace` says where that block stands now, so
 * that records of blocks an edit did not touch stay the very same objects and results computed from them stay valid.
 */
import type { Range } from '../text/place.js';
import type { Limits, Quantity, Uncertainty } from './quantity.js';

/** A word in the text that names something: a name being given, or a reference. */
export interface Name {
  readonly text: string;
  readonly range: Range;
}

/** A piece of free text. */
export interface Words {
  readonly text: string;
  readonly range: Range;
}

/** A moment as written in local time of the site; the offset is known once the site is. */
export interface LocalTime {
  /** `2026-05-14T11:42:00` — ISO 8601, without offset unless one was written. */
  readonly iso: string;
  /** Minutes east of UTC when the text carries an offset or `Z`. */
  readonly offsetMinutes?: number;
  readonly range: Range;
}

/**
 * `string`, `string/position`, or `string/first-last`, positions counted from the positive end, from 1. One module has
 * `first` alone.
 */
export interface Address {
  readonly text: string;
  readonly string: string;
  readonly first?: number;
  readonly last?: number;
  readonly range: Range;
}

interface BlockRecord {
  /** Range of the header line. */
  readonly headerRange: Range;
  /** Where each property keyword of the block stands, for diagnostics; the first where it is repeated. */
  readonly propertyRanges: ReadonlyMap<string, Range>;
  /** `note "…"` as a trailing property of any block. */
  readonly notes: readonly Words[];
}

interface NamedRecord extends BlockRecord {
  readonly name: Name;
  readonly title?: string;
}

export type Purpose = 'commissioning' | 'periodic' | 'fault-search';

export interface CampaignRecord extends NamedRecord {
  readonly kind: 'campaign';
  readonly client?: string;
  readonly operator?: string;
  readonly purpose?: Purpose;
  /** Path of the earlier campaign, relative to the file. */
  readonly compareWith?: Words;
  /** Criteria used where a sweep names none. */
  readonly criteria?: Name;
}

export interface SiteRecord extends NamedRecord {
  readonly kind: 'site';
  /** Degrees north, degrees east. */
  readonly latitude?: number;
  readonly longitude?: number;
  readonly elevation?: Quantity;
  /** IANA name, checked. */
  readonly timezone?: string;
}

export interface PlaneRecord extends NamedRecord {
  readonly kind: 'plane';
  readonly site?: Name;
  readonly tilt?: Quantity;
  /** Clockwise from north. */
  readonly azimuth?: Quantity;
  readonly albedo?: Quantity;
  readonly mounting: 'fixed' | 'single-axis';
}

export type Technology =
  'mono-Si' | 'multi-Si' | 'HJT' | 'a-Si' | 'CdTe' | 'CIGS' | 'CIS' | 'GaAs' | 'perovskite';

export interface ModuleRecord extends NamedRecord {
  readonly kind: 'module';
  readonly technology?: Technology;
  /** Cells in series between the terminals. A half-cut module with two paths in parallel declares the cells of one path. */
  readonly cells?: number;
  /** Groups of cells, each under its own bypass diode. */
  readonly substrings?: number;
  /** Fraction, 0 to 1. */
  readonly bifaciality?: Quantity;
  /** Nameplate at STC. */
  readonly pmax?: Quantity;
  readonly isc?: Quantity;
  readonly voc?: Quantity;
  readonly imp?: Quantity;
  readonly vmp?: Quantity;
  /** Temperature coefficients in absolute units per module (A/K, V/K, W/K), converted where written as a fraction per kelvin. */
  readonly alpha?: number;
  readonly beta?: number;
  readonly gamma?: number;
  /** As written, for hovers. */
  readonly alphaWritten?: Quantity;
  readonly betaWritten?: Quantity;
  readonly gammaWritten?: Quantity;
  readonly rs?: Quantity;
  readonly kappa?: Quantity;
  /** Irradiance coefficients of procedure 2, dimensionless. */
  readonly b1?: number;
  readonly b2?: number;
  readonly nmot?: Quantity;
}

export interface Cable {
  /** Out and back, in metres. */
  readonly length: Quantity;
  readonly crossSection: Quantity;
  readonly conductor: 'copper' | 'aluminium';
}

export interface StringRecord extends NamedRecord {
  readonly kind: 'string';
  /** One for each string of a run `string A .. B`; a single string has one. All share this record. */
  readonly names: readonly string[];
  readonly modules?: { readonly count: number; readonly type: Name; readonly range: Range };
  /** Strings in parallel behind the measured terminals; 1 unless written. */
  readonly parallel: number;
  readonly plane?: Name;
  readonly cable?: Cable;
  readonly feeds?: string;
  /** Its name in the earlier campaign. */
  readonly formerly?: Name;
  /** Position on the map of the array, in metres from any origin. */
  readonly position?: { readonly x: Quantity; readonly y: Quantity };
  readonly criteria?: Name;
}

/** A tracer (the I-V curve instrument) or a reference (the irradiance and temperature device). */
export interface InstrumentRecord extends NamedRecord {
  readonly kind: 'tracer' | 'reference';
  readonly serial?: string;
  readonly technology?: Technology;
  /** ISO date. */
  readonly calibrated?: Words;
  /** Calibration interval in months. */
  readonly intervalMonths?: number;
  readonly voltage?: Uncertainty;
  readonly current?: Uncertainty;
  readonly irradiance?: Uncertainty;
  /** How far its plane may be turned against that of the array, degrees. */
  readonly alignment?: Uncertainty;
  /** How far the spectrum of the moment may mislead it. */
  readonly spectral?: Uncertainty;
  /** Absolute, in kelvin. */
  readonly temperature?: Uncertainty;
}

/** A column of a table, by its header text or its number (from 1). */
export interface ColumnName {
  readonly header?: string;
  readonly number?: number;
  /** Unit as written in the layout; where absent the header or the units row tells. */
  readonly unit?: string;
  readonly range: Range;
}

/** How a foreign CSV file is laid out. Whatever is absent is recognised from the file. */
export interface LayoutRecord extends NamedRecord {
  readonly kind: 'layout';
  readonly delimiter?: ',' | ';' | '\t' | '|' | ' ';
  readonly decimal?: '.' | ',';
  /** Lines before the header line. */
  readonly skip?: number;
  /** False: the data start at once and columns are given by number. */
  readonly header?: boolean;
  /** `negative`: generated current is written as a negative number. Absent: recognised from the points. */
  readonly sign?: 'positive' | 'negative';
  readonly columns: ColumnMap;
}

export interface ColumnMap {
  readonly voltage?: ColumnName;
  readonly current?: ColumnName;
  readonly irradiance?: ColumnName;
  readonly temperature?: ColumnName;
  readonly address?: ColumnName;
  readonly time?: ColumnName;
}

export type ParameterName = 'isc' | 'voc' | 'imp' | 'vmp' | 'pmax' | 'ff';

/**
 * How curves are brought to STC: the correction procedures of IEC 60891, or the voltage-temperature relation of the
 * single-junction cell, by authors and year of its source (see physics/junctionTemperature.ts).
 */
export type ProcedureName = 'IEC60891-1' | 'IEC60891-2' | 'IEC60891-3' | 'Hishikawa-2018';

export interface CriteriaRecord extends NamedRecord {
  readonly kind: 'criteria';
  readonly procedure: ProcedureName | 'auto';
  readonly decision: 'simple' | 'guarded';
  /** `counted`: the tolerance that the nameplate declares for a parameter widens the limit of that parameter. */
  readonly tolerance: 'counted' | 'ignored';
  /** Limits of the deviation from nameplate, as fractions. */
  readonly limits: Readonly<Partial<Record<ParameterName, Limits>>>;
  /** Conditions under which a sweep is judged at all. */
  readonly irradiance?: Limits;
  readonly temperature?: Limits;
  /** Spread of irradiance during the sweep, as a fraction of its mean. */
  readonly drift?: Limits;
  readonly incidence?: Limits;
  /** Least number of usable points. */
  readonly points?: number;
  /** Spread between like strings, as a fraction. */
  readonly spread?: Limits;
  /** Insulation resistance to earth, beyond what the standard asks; ohm. */
  readonly insulation?: Limits;
  /** Resistance of protective conductors, ohm. */
  readonly continuity?: Limits;
}

export type SweepTemperature =
  | { readonly kind: 'cell'; readonly value: Quantity; readonly range: Range }
  /** Back of module; `offset` is the difference to the cell at 1000 W/m2. */
  | { readonly kind: 'module'; readonly value: Quantity; readonly offset?: Quantity; readonly range: Range }
  /** Equivalent cell temperature from the measured Voc, IEC 60904-5. */
  | { readonly kind: 'voc'; readonly range: Range };

/** What a pin that stands upright on the plane of the array shows of the sun. */
export interface PinShadow {
  /** Angle of incidence, degrees, 0 to 90: read off, or atan(length of the shadow / length of the pin). */
  readonly incidence: number;
  readonly range: Range;
}

export interface InlinePoints {
  /** V. */
  readonly voltage: readonly number[];
  /** A. */
  readonly current: readonly number[];
  /** Block-relative line of each point. */
  readonly lines: readonly number[];
  readonly range: Range;
}

export interface SweepRecord extends BlockRecord {
  readonly kind: 'sweep';
  readonly address: Address;
  readonly time?: LocalTime;
  readonly irradiance?: Quantity;
  /** A second reading, after the sweep; the first one then counts as taken before it. */
  readonly irradianceAfter?: Quantity;
  /** Rear irradiance of a bifacial module. */
  readonly rearIrradiance?: Quantity;
  readonly temperature?: SweepTemperature;
  /** A second reading, only compared with the first. */
  readonly temperatureCheck?: SweepTemperature;
  readonly data?: Words;
  readonly layout?: Name;
  readonly points?: InlinePoints;
  readonly with: readonly Name[];
  readonly criteria?: Name;
  /** Plane of the array at this moment, where it moves. */
  readonly tilt?: Quantity;
  readonly azimuth?: Quantity;
  readonly pinShadow?: PinShadow;
  readonly remark?: string;
  readonly void?: Words;
}

/** `sweeps from "file"`: many sweeps, one table. */
export interface SweepTableRecord extends BlockRecord {
  readonly kind: 'sweeps';
  readonly data: Words;
  readonly layout?: Name;
  readonly columns: ColumnMap;
  /** Used where the table has no such column. */
  readonly irradiance?: Quantity;
  readonly temperature?: SweepTemperature;
  readonly temperatureKind: 'cell' | 'module';
  readonly temperatureOffset?: Quantity;
  readonly with: readonly Name[];
  readonly criteria?: Name;
}

export interface ReplaceRecord extends BlockRecord {
  readonly kind: 'replace';
  readonly address: Address;
  readonly time?: LocalTime;
  readonly serial?: { readonly old: string; readonly new: string };
  readonly type?: { readonly old: Name; readonly new: Name };
  readonly reason?: string;
}

export interface NoteRecord extends BlockRecord {
  readonly kind: 'note';
  readonly address?: Address;
  readonly time?: LocalTime;
  readonly text: Words;
}

export interface AcceptRecord extends BlockRecord {
  readonly kind: 'accept';
  readonly address: Address;
  readonly time?: LocalTime;
  readonly reason: Words;
  readonly by?: Words;
}

/** The other string tests of IEC 62446-1; judged by electricalTests/. */
export interface ElectricalTestRecord extends BlockRecord {
  readonly kind: 'insulation' | 'continuity' | 'polarity' | 'meter';
  readonly address: Address;
  readonly time?: LocalTime;
  readonly resistance?: Quantity;
  readonly testVoltage?: Quantity;
  readonly result?: 'correct' | 'reversed' | 'continuous' | 'open';
  /** Of an insulation test: what was held against earth. */
  readonly pole?: 'positive' | 'negative' | 'shorted';
  /** Of a meter reading; a negative Voc is one with plus and minus exchanged. */
  readonly voc?: Quantity;
  readonly isc?: Quantity;
  readonly irradiance?: Quantity;
  readonly temperature?: SweepTemperature;
  readonly with: readonly Name[];
}

export type NamedKind =
  'campaign' | 'site' | 'plane' | 'module' | 'string' | 'tracer' | 'reference' | 'layout' | 'criteria';

export type CampaignEntry =
  | CampaignRecord
  | SiteRecord
  | PlaneRecord
  | ModuleRecord
  | StringRecord
  | InstrumentRecord
  | LayoutRecord
  | CriteriaRecord
  | SweepRecord
  | SweepTableRecord
  | ReplaceRecord
  | NoteRecord
  | AcceptRecord
  | ElectricalTestRecord;

/** Where a record's block stands now. `range` spans header to last property line. */
export interface BlockPlace {
  readonly file: string;
  readonly startLine: number;
  readonly endLine: number;
}

export interface Placed<T extends CampaignEntry = CampaignEntry> {
  readonly record: T;
  readonly block: BlockPlace;
}

/** What the names of a campaign stand for. A name given twice keeps its first record. */
export interface CampaignNames {
  readonly campaign?: Placed<CampaignRecord>;
  readonly sites: ReadonlyMap<string, Placed<SiteRecord>>;
  readonly planes: ReadonlyMap<string, Placed<PlaneRecord>>;
  readonly modules: ReadonlyMap<string, Placed<ModuleRecord>>;
  /** By each name of a run. */
  readonly strings: ReadonlyMap<string, Placed<StringRecord>>;
  readonly instruments: ReadonlyMap<string, Placed<InstrumentRecord>>;
  readonly layouts: ReadonlyMap<string, Placed<LayoutRecord>>;
  readonly criteria: ReadonlyMap<string, Placed<CriteriaRecord>>;
  /** Every record but the sweeps, in reading order: the very same list as long as none of them changed or moved. */
  readonly declarations: readonly Placed[];
  /** Stands for all that the names mean: the very same object as long as the records of `declarations` are, wherever they stand. */
  readonly meaning: object;
}

/**
 * The whole of a campaign: every record of the root file and of what it includes, in reading order (an included file's
 * blocks stand where its `include` line stands), and the names.
 */
export interface Campaign extends CampaignNames {
  readonly entries: readonly Placed[];
  readonly sweeps: readonly Placed<SweepRecord>[];
  readonly sweepTables: readonly Placed<SweepTableRecord>[];
}

/** What a sweep was taken on and judged by, once the names are resolved. Undefined: absent or dangling, and said so. */
export interface SweepTarget {
  readonly string?: StringRecord;
  readonly module?: ModuleRecord;
  readonly plane?: PlaneRecord;
  readonly site?: SiteRecord;
  readonly criteria?: CriteriaRecord;
  readonly layout?: LayoutRecord;
  readonly tracer?: InstrumentRecord;
  readonly reference?: InstrumentRecord;
  /** The whole string was measured, at the end of its cable; not a module or a section at its own leads. */
  readonly wholeString: boolean;
  /** Modules in series between the measured terminals: the string's count, 1, or the length of the section. */
  readonly seriesModules?: number;
  /** Strings in parallel between the measured terminals; 1 for a module or a section. */
  readonly parallelStrings: number;
}
