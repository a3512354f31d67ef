import { stringOf } from '../campaign/names.js';
import type { Evaluation } from './evaluation.js';

/** Every string of the campaign, in reading order, then what was measured without being declared. */
export const stringNames = ({ campaign, sweeps }: Pick<Evaluation, 'campaign' | 'sweeps'>): string[] => [
  ...new Set([...campaign.strings.keys(), ...sweeps.map(({ address }) => stringOf(address))]),
];
