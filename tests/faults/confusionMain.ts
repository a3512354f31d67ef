/**
 * Writes README.md beside this file: `npm run confusion`. The same program writes the same bytes.
 *
 *     npm run confusion -- --seeds 20 --only shunt,type --list      counts on the screen, nothing written, every miss named
 *     npm run confusion -- --alone --seeds 20 --list                the string without others beside it
 *     npm run confusion -- --least 700 --seeds 20                   only from 700 W/m2 on (other draws than without)
 *     npm run confusion -- --write out --only shunt --first 7       the campaign of that seed as files
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { classOf, tally } from './confusion.js';
import { faultCampaign } from './faultCampaign.js';
import type { Judged } from './judged.js';
import { readme } from './readme.js';
import { tables } from './report.js';
import { truths } from './truths.js';

const { values } = parseArgs({
  options: {
    seeds: { type: 'string' },
    first: { type: 'string', default: '1' },
    only: { type: 'string' },
    least: { type: 'string', default: '500' },
    peers: { type: 'string', default: '5' },
    alone: { type: 'boolean', default: false },
    list: { type: 'boolean', default: false },
    write: { type: 'string' },
  },
});
const only = values.only?.split(',');
const firstSeed = Number(values.first);
const irradiance = [Number(values.least), 1100] as const;
const peers = values.alone ? 0 : Number(values.peers);

if (values.write !== undefined) {
  for (const truth of truths.filter(({ name }) => !only || only.includes(name))) {
    const { text, tables, address } = faultCampaign(truth, firstSeed, { peers, irradiance });
    const folder = path.join(values.write, `${truth.name}-${firstSeed}`);
    mkdirSync(folder, { recursive: true });
    writeFileSync(path.join(folder, 'campaign.sweepbook'), text);
    for (const [name, csv] of Object.entries(tables)) writeFileSync(path.join(folder, name), csv);
    console.log(`${folder}: the case is string ${address}`);
  }
} else if (values.seeds !== undefined) {
  const seeds = Number(values.seeds);
  const each = values.list ? printMiss : undefined;
  const counted = await tally({ firstSeed, seeds: () => seeds, peers, irradiance, only, each });
  console.log(tables(counted));
} else {
  const file = path.resolve('tests/faults/README.md');
  writeFileSync(file, await readme((text) => console.error(text)));
  console.log(file);
}

function printMiss(result: Judged): void {
  const { campaign, answer, correct, causes, peerAnswers } = result;
  const { truth, seed, address, plan } = campaign;
  const wrongPeers = peerAnswers.filter((each) => each !== 'healthy');
  if (correct && wrongPeers.length === 0) return;
  const what = `${plan.string.modules.length} x ${plan.string.type.name} entered ${plan.entered.count} x ${plan.entered.type.name}`;
  const where = `${plan.irradiance.before.toFixed(0)}..${plan.irradiance.after.toFixed(0)} W/m2 ${plan.temperature.toFixed(0)} degC`;
  if (!correct) {
    console.log(
      `${truth.name} seed ${seed} string ${address} (${classOf(result)}): ${answer}   [${what}, ${where}]`,
    );
    for (const { code, share, text } of causes.slice(0, 3))
      console.log(`    ${share.toFixed(2)} ${code}: ${text}`);
  }
  if (wrongPeers.length > 0)
    console.log(
      `${truth.name} seed ${seed}: of strings beside it: ${wrongPeers.join(', ')}   [${what}, ${where}]`,
    );
}
