/** README.md of this folder: what was simulated, and what came of it. */
import { tally } from './confusion.js';
import { tables } from './report.js';
import { truths, type Truth } from './truths.js';

/** How many seeds of each fault; three times as many of healthy strings, on which false alarms are counted. */
const samples = [
  { irradiance: [700, 1100], seeds: 50 },
  { irradiance: [500, 700], seeds: 25 },
] as const;
/** Seeds below are for development; nothing was chosen by the cases of the table. */
const firstSeed = 50001;

export async function readme(say: (text: string) => void): Promise<string> {
  return [
    intro,
    '## With five healthy strings beside it',
    ...(await counted(5, say)),
    equalAnswers(
      'with others beside it',
      truths.filter(({ remark }) => remark).map(({ title, remark }) => [title, remark!]),
    ),
    '## The string alone',
    ...(await counted(0, say)),
    equalAnswers(
      'alone',
      truths
        .filter(({ equalAlone }) => equalAlone)
        .map(({ title, equalAlone }) => [
          title,
          `${equalAlone!.codes.join(', ')} counts too: ${equalAlone!.because}.`,
        ]),
    ),
    '',
  ].join('\n\n');
}

async function counted(peers: number, say: (text: string) => void): Promise<string[]> {
  const parts: string[] = [];
  for (const { irradiance, seeds } of samples) {
    say(`${peers} strings beside it, ${irradiance.join(' to ')} W/m2 ...`);
    const many = ({ first }: Truth): number => (first ? seeds : 3 * seeds);
    parts.push(tables(await tally({ firstSeed, seeds: many, peers, irradiance })));
  }
  return parts;
}

const equalAnswers = (where: string, rows: readonly (readonly [string, string])[]): string =>
  [
    `What no electrical measurement can tell apart, ${where}:`,
    '',
    ...rows.map(([title, text]) => `- ${title}: ${text}`),
  ].join('\n');

const intro = `# What a diagnosis gets right

Written by \`npm run confusion\`; do not edit. Seeds from 50001 on: 50 cases of every fault at 700 W/m2 and above, 25 below, three
times as many of healthy strings. Seeds below 50001 were used while the diagnosis was written; those of the table were not.

Each case is a campaign of its own, drawn from its seed and judged by the whole tool from text and tables: a string with
something wrong with it, or with what was written about it, and five healthy strings like it measured on the same day. The rows
are what is true, the columns what the diagnosis ranks first, in percent of the cases of the row; "right" is the share whose
first-ranked cause is the one named in the second column.

The curves come from a simulation that shares no code with the tool (\`simulator/\`): cells with two terminals, each a single diode
with series and shunt resistance and avalanche breakdown in reverse (Bishop, Solar Cells 25 (1988) 73-89), cells in series to
substrings, Schottky diodes across them, modules in series, cable. It is checked against published points of the single-diode model, the
effect of series resistance on the fill factor after Green (1982) and the power that a shaded cell can take up
(\`simulator.test.ts\`).

Drawn for each case:

- four invented module types: 54 and 66 half-cut cells in series, 72 and 60 whole cells; what the label says is computed from the cells and rounded as a label is;
- 8 to 28 modules, irradiance 500 to 1100 W/m2, cell temperature 15 to 65 degC;
- lot of the modules against the label: Isc within 1 %, Voc within 0.5 %, Rs within 6 %; modules among each other: the same again;
- module temperatures within 2 K of the mean of the string; the sensor within 1 K of it by where it sits and 1 K by its accuracy;
- irradiance sensor within its stated 2 %, tracer within its stated 0.5 % of voltage and of current, the same for all sweeps of a campaign;
- noise of one reading (standard deviation): 0.1 to 0.2 % of the range in current (5, 10, 15, 20 A), 0.01 to 0.03 % of the range in voltage (100, 500, 1000, 1500 V);
- 60 to 400 points, at even steps of voltage or at even times of a charging capacitor;
- cable 30 to 90 m of 4 or 6 mm2, within 4 % of its resistance; irradiance drifting by up to 0.8 % during a sweep;
- strings beside the case: irradiance within some percent of its own, temperature with it.

"Within" means normal, with that as two standard deviations, and none beyond. Where no source is named, the numbers are invented.`;
