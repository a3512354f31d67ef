import * as vega from 'vega';
import { expressionInterpreter } from 'vega-interpreter';
import { compile, type TopLevelSpec } from 'vega-lite';
import { beforeAll, describe, expect, it } from 'vitest';
import { campaignChartData, sweepChartData } from '../../src/presentation/chartData.js';
import {
  campaignOverviewSpec,
  currentVoltageSpec,
  powerVoltageSpec,
} from '../../src/presentation/chartSpecs.js';
import { lightTheme } from '../../src/presentation/chartTheme.js';
import { empty, evaluation } from './fixture.js';
import { expectGolden } from './goldenFile.js';

const sweep = evaluation.sweeps[0]!;
const data = sweepChartData(sweep);
const size = { width: 350 } as const;

/** Compiles, failing on any warning, and draws by the interpreter. */
async function draw(
  spec: TopLevelSpec,
  fill?: (view: vega.View) => void,
  allowed: RegExp | undefined = undefined,
): Promise<string> {
  const warnings: unknown[] = [];
  const warn = (...words: unknown[]) => {
    if (!allowed?.test(String(words))) warnings.push(words);
    return logger;
  };
  const logger: vega.LoggerInterface = {
    level: (() => logger) as never,
    error: warn,
    warn,
    info: () => logger,
    debug: () => logger,
  };
  const runtime = vega.parse(compile(spec, { logger }).spec, undefined, { ast: true });
  const view = new vega.View(runtime, { renderer: 'none', expr: expressionInterpreter, logger });
  fill?.(view);
  const svg = await view.toSVG();
  view.finalize();
  expect(warnings).toEqual([]);
  return svg;
}

/** Numbers rounded and clip ids renamed, so that a library's last digit does not fail the test. */
const rounded = (svg: string): string =>
  svg
    .replace(/(?<![^\s,"(MLHVZACm])-?\d+\.\d+(?![^\s,")MLHVZAC])/g, (number) => Number(number).toFixed(1))
    .replace(/clip\d+/g, 'clip')
    .replaceAll('><', '>\n<');

describe('the curve charts', () => {
  // The interpreter never compiles code; had it needed to, this would throw.
  let original: FunctionConstructor;
  beforeAll(() => {
    original = globalThis.Function;
    globalThis.Function = new Proxy(original, {
      construct: () => {
        throw new EvalError('code generation');
      },
      apply: () => {
        throw new EvalError('code generation');
      },
    });
    return () => {
      globalThis.Function = original;
    };
  });

  it('draw current over voltage', async () => {
    const svg = await draw(currentVoltageSpec(lightTheme, size, data));
    for (const words of ['Voltage (V)', 'Current (A)', 'measured', 'translated to STC', 'nameplate at STC']) {
      expect(svg).toContain(words);
    }
    expectGolden('current.svg', rounded(svg));
  });

  it('draw power over voltage', async () => {
    const svg = await draw(powerVoltageSpec(lightTheme, size, data));
    expect(svg).toContain('Power (W)');
    expectGolden('power.svg', rounded(svg));
  });

  it('draw the overview', async () => {
    const svg = await draw(campaignOverviewSpec(lightTheme, size, campaignChartData(evaluation)));
    expect(svg).toContain('1.03, 11:42');
    expectGolden('overview.svg', rounded(svg));
  });

  it('take their data from the host as well, with the same picture', async () => {
    const fill = (view: vega.View): void => {
      view.data('curves', structuredClone(data.curves) as unknown[]);
      view.data('maxima', structuredClone(data.maxima) as unknown[]);
    };
    // Nothing was found and nothing is pointed at: data sets without an extent.
    const filled = await draw(currentVoltageSpec(lightTheme, size), fill, /Infinite extent/);
    const inside = await draw(currentVoltageSpec(lightTheme, size, data));
    // What only a host fills is an empty group.
    const onlyOfHost =
      /<g class="mark-(text|rule) role-mark layer_[5-7]_marks"[^>]*\/>\n|<defs>[^]*?<\/defs>\n/g;
    const drawing = (svg: string) =>
      rounded(svg)
        .replace(/aria-label="[^"]*"/g, '')
        .replace(onlyOfHost, '');
    expect(drawing(filled)).toBe(drawing(inside));
  });

  it('draw an empty campaign without complaint', async () => {
    // An empty data set has no extent, and the library says so.
    const noExtent = /Infinite extent/;
    const overview = campaignOverviewSpec(lightTheme, size, campaignChartData(empty));
    expect(await draw(overview, undefined, noExtent)).toContain('<svg');
    const none = { curves: [], maxima: [], differences: [], findings: [], description: 'None.' };
    expect(await draw(currentVoltageSpec(lightTheme, size, none), undefined, noExtent)).toContain('<svg');
  });
});

describe('the chart data', () => {
  it('join the continued part to the rest', () => {
    const translated = data.curves.filter((row) => row.series === 'translated to STC');
    const last = translated.filter((row) => row.part === 'points').at(-1)!;
    const first = translated.find((row) => row.part === 'continued')!;
    expect([first.voltage, first.current]).toEqual([last.voltage, last.current]);
  });

  it('thin long curves and keep both ends', () => {
    const many = 10_000;
    const curve = {
      voltage: Float64Array.from({ length: many }, (_, index) => index / 100),
      current: new Float64Array(many).fill(5),
    };
    const long = {
      ...sweep,
      analysis: { ...sweep.analysis, measured: { ...sweep.analysis.measured!, curve } },
    };
    const rows = sweepChartData(long).curves.filter((row) => row.series === 'measured');
    expect(rows.length).toBeLessThanOrEqual(602);
    expect(rows[0]!.voltage).toBe(0);
    expect(rows.at(-1)!.voltage).toBe(99.99);
  });

  it('describe in words what they show', () => {
    expect(data.description).toMatch(/translated to STC 6\d{3} W at \d+\.\d V and \d+\.\d\d A/);
  });

  it('leave void sweeps out of the overview', () => {
    expect(campaignChartData(evaluation).sweeps).toHaveLength(5);
  });

  it('keep a dead module from squeezing the rest, and say its number', () => {
    const dead = campaignChartData(evaluation).sweeps[1]!;
    expect(dead).toMatchObject({ sweep: '1.03/11', deviation: -34, shown: -20, beyond: '-34.0 %' });
  });
});
