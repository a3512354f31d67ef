/** What a soak opens: the examples by turns and, every second time, a small campaign that was never open before. */
import { cpSync, mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { generateCampaign } from '../bench/generate.js';

const project = fileURLToPath(new URL('../..', import.meta.url));
const examples = ['harrow-fen', 'harrow-fen-2027', 'through-the-day', 'electrical-tests', 'mistakes'];

/** How often campaigns are opened; `SWEEPBOOK_ROUNDS` sets another number. */
export const rounds = Number(process.env['SWEEPBOOK_ROUNDS'] ?? 1_000);

/** A line that is wrong wherever it stands alone. */
export const wrongLine = 'sweep nowhere at never\n';

/**
 * Writes the campaigns of a soak into a folder.
 * @returns the file that each round opens
 */
export function writeCampaigns(folder: string, rounds: number): string[] {
  for (const name of examples)
    cpSync(path.join(project, 'examples', name), path.join(folder, name), { recursive: true });
  const { text, files } = generateCampaign(3);
  return Array.from({ length: rounds }, (_, round) => {
    if (round % 2 === 1)
      return path.join(folder, examples[(round >> 1) % examples.length]!, 'campaign.sweepbook');
    const place = path.join(folder, 'new', String(round));
    mkdirSync(place, { recursive: true });
    for (const [name, bytes] of files) writeFileSync(path.join(place, name), bytes);
    const campaign = path.join(place, 'campaign.sweepbook');
    writeFileSync(campaign, text);
    return campaign;
  });
}
