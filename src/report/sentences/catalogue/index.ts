/**
 * All sentences that the core composes and a report shows, by the parts of src/ that compose them. Of two that fit, the one
 * that comes first is taken.
 */
import type { Sentence } from '../sentence.js';
import { cases } from './cases.js';
import { charts } from './charts.js';
import { checks } from './checks.js';
import { comparisons } from './comparisons.js';
import { diagnosis } from './diagnosis.js';
import { electrical } from './electrical.js';
import { joined } from './joined.js';
import { method } from './method.js';
import { notation } from './notation.js';
import { reasons } from './reasons.js';
import { tables } from './tables.js';

export const catalogue: readonly Sentence[] = [
  ...reasons,
  ...method,
  ...diagnosis,
  ...cases,
  ...comparisons,
  ...electrical,
  ...checks,
  ...charts,
  ...tables,
  ...notation,
  ...joined,
];
