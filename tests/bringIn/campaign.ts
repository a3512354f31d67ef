/** A campaign in memory to bring files into. All names, layouts and numbers are invented. */
import { bringIn, type BroughtIn } from '../../src/bringIn/bringIn.js';
import { missingOf, type FoundSweep, type FoundTable } from '../../src/bringIn/foundTable.js';
import { namedFiles } from '../../src/bringIn/namedFiles.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import type { FileReader } from '../../src/evaluation/ports.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import { utf8 } from '../sweeps/fixtures.js';

export const campaignText = `campaign fen "Fen"

site fen
  position 52.4012 N, 0.2618 E
  timezone Europe/London

plane south
  tilt 12 deg
  azimuth 174 deg

module KF108M
  cells 54
  Pmax 408.4 W
  Isc 13.90 A
  Voc 37.20 V
  Imp 13.09 A
  Vmp 31.20 V
  alpha 0.045 %/K
  beta -0.27 %/K
  gamma -0.35 %/K

string 1.01 .. 1.12
  modules 18 x KF108M
  plane south

string INV2-S07
  modules 18 x KF108M
  plane south

tracer T1
  voltage ± 0.5 %

reference RC1
  irradiance ± 2 %
`;

export const root = '/fen/c.sweepbook';

const resolve = (_from: string, relative: string): string | undefined =>
  relative.startsWith('..') ? undefined : `/fen/${relative}`;

export function evaluate(
  text: string,
  files: Readonly<Record<string, string | Uint8Array>> = {},
): Promise<Evaluation> {
  const all: Record<string, string | Uint8Array> = { 'c.sweepbook': text, ...files };
  const reader: FileReader = {
    read: (file) => {
      const content = all[file.replace('/fen/', '')];
      if (content === undefined) return Promise.resolve({ ok: false, reason: 'missing' });
      return Promise.resolve({ ok: true, bytes: typeof content === 'string' ? utf8(content) : content });
    },
    resolve,
    displayName: (file) => file.replace('/fen/', ''),
  };
  return new Workbook(reader).evaluate(root);
}

export async function bring(
  files: Readonly<Record<string, string | Uint8Array>>,
  { text = campaignText, writeLayout = false } = {},
): Promise<BroughtIn> {
  const { campaign } = await evaluate(text);
  const inputs = Object.entries(files).map(([path, content]) => ({
    file: `/fen/${path}`,
    path,
    bytes: typeof content === 'string' ? utf8(content) : content,
  }));
  return bringIn(inputs, { campaign, named: namedFiles(campaign, resolve), writeLayout });
}

export function onlySweep({ found, left }: BroughtIn): FoundSweep {
  const [only] = found;
  if (found.length !== 1 || only?.kind !== 'sweep')
    throw new Error(JSON.stringify({ found: found.length, left }));
  return only;
}

/** What is known of a table, in the words of the notation; `(table)` where nothing has to be written. */
export function known(found: FoundTable): Record<string, string> {
  return Object.fromEntries(
    Object.entries(found.facts).flatMap(([asked, { fact }]) =>
      fact ? [[asked, fact.text ?? '(table)']] : [],
    ),
  );
}

export { missingOf };
