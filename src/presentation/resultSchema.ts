/** The JSON that `check --format json` writes: its schema and how an evaluation becomes one. */
export { checkResultSchema, resultJsonSchema, type CheckResult } from './checkResultSchema.js';
export { toResult } from './checkResult.js';
