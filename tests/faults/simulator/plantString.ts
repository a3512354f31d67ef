/** A string of modules in whatever state, and its curve. */
import { diodeAt, schottky } from './bypassDiode.js';
import type { Cell } from './cell.js';
import { cellOf, type ModuleType, type Piece } from './moduleTypes.js';
import { inSeries } from './series.js';
import { tableOf, type Path, type Substring, type Table } from './substring.js';

/** What shades some cells of one path of a substring: each gets this share of the light. */
export interface Shade {
  readonly substring: number;
  /** 0, or 1 for the second half of a half-cut module. */
  readonly path: number;
  readonly cells: number;
  readonly light: number;
}

export interface ModuleState {
  readonly piece: Piece;
  /** Share of the irradiance that reaches its cells. */
  readonly light: number;
  /** Warmer than the string's mean, K. */
  readonly warmer: number;
  readonly shades: readonly Shade[];
  /** Substrings whose bypass diode is a short circuit of so many ohm. */
  readonly shorted: ReadonlyMap<number, number>;
  /** Substrings whose cells are interrupted. */
  readonly interrupted: readonly number[];
  /** Siemens across each whole cell. */
  readonly defect: number;
}

export const soundModule = (piece: Piece, warmer = 0): ModuleState => ({
  piece,
  light: 1,
  warmer,
  shades: [],
  shorted: new Map(),
  interrupted: [],
  defect: 0,
});

export interface PlantString {
  readonly type: ModuleType;
  readonly modules: readonly ModuleState[];
  /** Cable and whatever else is in series, ohm. */
  readonly resistance: number;
}

/** A junction box in the sun is warmer than the cells; invented. */
const boxWarmer = 20;

/** At a mean irradiance in W/m2 and a mean cell temperature in degC. */
export function stringTable(
  { type, modules, resistance }: PlantString,
  irradiance: number,
  temperature: number,
): Table {
  const tables = modules.flatMap((module) => moduleTables(type, module, irradiance, temperature));
  const most = type.cell.photocurrent * (irradiance / 1000) * 1.15;
  return inSeries(tables, resistance, -0.04 * most, most);
}

function moduleTables(type: ModuleType, module: ModuleState, irradiance: number, mean: number): Table[] {
  const temperature = mean + module.warmer;
  const share = type.halfCut ? 0.5 : 1;
  const whole = cellOf(type, module.piece, irradiance, temperature);
  const cell: Cell = {
    ...whole,
    photocurrent: whole.photocurrent * module.light,
    defect: module.defect * share,
  };
  const diode = diodeAt(schottky, temperature + boxWarmer);
  const count = type.cells / type.substrings;
  const sound: Path = [{ cell, count }];
  let soundTable: Table | undefined;
  return Array.from({ length: type.substrings }, (_, index) => {
    const resistance = module.shorted.get(index);
    if (resistance !== undefined) return tableOf({ kind: 'shorted', resistance });
    if (module.interrupted.includes(index)) return tableOf({ kind: 'open', diode });
    const shades = module.shades.filter(({ substring }) => substring === index);
    const shadedPaths = [0, 1].map((path) =>
      shadedPath(
        sound,
        shades.find((shade) => shade.path === path),
      ),
    );
    const paths = type.halfCut ? shadedPaths : [shadedPaths[0]!];
    const substring: Substring = { kind: 'cells', paths, diode };
    if (shades.length > 0) return tableOf(substring);
    return (soundTable ??= tableOf(substring));
  });
}

/** The same object when nothing shades it, so that equal halves are seen to be equal. */
function shadedPath(sound: Path, shade: Shade | undefined): Path {
  if (!shade) return sound;
  const { cell, count } = sound[0]!;
  const shaded = { ...cell, photocurrent: cell.photocurrent * shade.light };
  const cells = Math.min(shade.cells, count);
  return cells === count
    ? [{ cell: shaded, count }]
    : [
        { cell, count: count - cells },
        { cell: shaded, count: cells },
      ];
}
