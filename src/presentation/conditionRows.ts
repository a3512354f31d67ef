import type { SweepRecord, SweepTableRecord, SweepTemperature } from '../campaign/model.js';
import type { EvaluatedSweep } from '../evaluation/evaluation.js';
import { formatPercent, formatValue, formatWithAbsolute, formatWithUncertainty } from './formatNumber.js';
import type { ConditionRow } from './previewTypes.js';
import { placeIn, type SourcePlace } from './sourcePlace.js';
import { quantityText } from './sweepTexts.js';

/** The conditions of a sweep, each with its uncertainty and where it came from. What is not known is said to be so. */
export function conditionRows(sweep: EvaluatedSweep): ConditionRow[] {
  return [irradianceRow(sweep), temperatureRow(sweep), ...optionalRows(sweep), ...instrumentRows(sweep)];
}

const placeOfProperty = (sweep: EvaluatedSweep, keyword: string): SourcePlace | undefined => {
  const range = sweep.record.propertyRanges.get(keyword);
  return range && placeIn(sweep.block, range);
};

function irradianceRow(sweep: EvaluatedSweep): ConditionRow {
  const { irradiance, irradianceUncertainty } = sweep.analysis.conditions;
  const written = sweep.record.irradiance;
  const asWritten = written !== undefined && irradiance !== undefined && near(written.value, irradiance);
  return {
    name: 'Irradiance',
    value:
      irradiance === undefined
        ? 'not known'
        : formatWithUncertainty(irradiance, irradianceUncertainty, 'W/m2'),
    origin: irradiance === undefined ? '' : asWritten ? 'as written' : 'from the data',
    place: placeOfProperty(sweep, 'irradiance'),
  };
}

function temperatureRow(sweep: EvaluatedSweep): ConditionRow {
  const { cellTemperature, temperatureUncertainty } = sweep.analysis.conditions;
  return {
    name: 'Cell temperature',
    value:
      cellTemperature === undefined
        ? 'not known'
        : formatWithAbsolute(cellTemperature, temperatureUncertainty, 'degC'),
    origin: cellTemperature === undefined ? '' : temperatureOrigin(sweep),
    place: placeOfProperty(sweep, 'temperature'),
  };
}

function temperatureOrigin(sweep: EvaluatedSweep): string {
  const { temperatureSource } = sweep.analysis.conditions;
  if (temperatureSource === 'voc') return 'from Voc, IEC 60904-5';
  const written = sweep.record.temperature;
  const from = written && 'value' in written ? `${quantityText(written.value)} as written` : 'from the data';
  if (temperatureSource !== 'module')
    return written && 'value' in written ? 'cell, as written' : 'cell, from the data';
  const offset = offsetOf(sweep.record, written);
  return `back of module (${from})${offset ? `, plus ${quantityText(offset)} at 1000 W/m2` : ''}`;
}

function offsetOf(record: SweepRecord | SweepTableRecord, written: SweepTemperature | undefined) {
  if (written?.kind === 'module' && written.offset) return written.offset;
  return record.kind === 'sweeps' ? record.temperatureOffset : undefined;
}

function optionalRows(sweep: EvaluatedSweep): ConditionRow[] {
  const { drift, incidence, incidenceSource, pinIncidence, sunElevation, points } = sweep.analysis.conditions;
  const rows: ConditionRow[] = [];
  if (drift !== undefined) {
    rows.push({
      name: 'Irradiance drift',
      value: formatPercent(drift),
      origin: 'range over mean, from the data',
    });
  }
  if (incidence !== undefined) {
    rows.push({
      name: 'Angle of incidence',
      value: `${incidence.toFixed(1)} deg`,
      origin:
        incidenceSource === 'pin'
          ? 'from the shadow of the pin'
          : `computed${pinIncidence === undefined ? '' : `; the shadow of the pin says ${pinIncidence.toFixed(1)} deg`}`,
      place: placeOfProperty(sweep, 'pin-shadow'),
    });
  }
  if (sunElevation !== undefined) {
    rows.push({
      name: 'Sun elevation',
      value: `${sunElevation.toFixed(1)} deg`,
      origin: 'computed',
    });
  }
  if (points !== undefined) {
    const { record } = sweep;
    rows.push({
      name: 'Usable points',
      value: String(points),
      origin: record.data ? `"${record.data.text}"` : 'points in the text',
      place:
        sweep.dataFile === undefined ? placeOfProperty(sweep, 'points') : dataPlace(sweep, sweep.dataFile),
    });
  }
  return rows;
}

const dataPlace = (sweep: EvaluatedSweep, file: string): SourcePlace => ({
  file,
  line: Math.max(0, (sweep.tableLine ?? 1) - 1),
});

function instrumentRows(sweep: EvaluatedSweep): ConditionRow[] {
  const { tracer, reference } = sweep.target;
  return [tracer, reference].flatMap((instrument) => {
    if (!instrument) return [];
    const calibrated = instrument.calibrated
      ? `calibrated ${instrument.calibrated.text}`
      : 'calibration date not given';
    const serial = instrument.serial ? `, serial ${instrument.serial}` : '';
    return [
      {
        name: instrument.kind === 'tracer' ? 'Tracer' : 'Reference device',
        value: instrument.name.text,
        origin: calibrated + serial,
        place: placeOfProperty(sweep, 'with'),
      },
    ];
  });
}

const near = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a));

/** `812 W/m2` and `44.1 degC` for lists. */
export function conditionCells(sweep: EvaluatedSweep): { irradiance: string; cellTemperature: string } {
  const { irradiance, cellTemperature } = sweep.analysis.conditions;
  return {
    irradiance: irradiance === undefined ? formatValue(undefined, '') : `${irradiance.toFixed(0)} W/m2`,
    cellTemperature:
      cellTemperature === undefined ? formatValue(undefined, '') : `${cellTemperature.toFixed(1)} degC`,
  };
}
