/**
 * What no campaign needs while it is opened: it waits for a command, a panel, or a question at one place of the text. The desktop reads
 * it from a file of its own (`esbuild.mjs`) when somebody first imports it, always by `await import`; in the browser, where
 * there can be one file alone, it is prepared only then.
 */
export { bringIn } from '../bringIn/bringIn.js';
export { namedFiles, onlyInstruments } from '../bringIn/namedFiles.js';
export { blockSnippet } from '../bringIn/writtenBlocks.js';
export { completionsAt } from '../presentation/completions.js';
export { hoverAt } from '../presentation/hoverText.js';
export { fixAll } from '../presentation/quickFixes.js';
export { signatureAt } from '../presentation/signatureHelp.js';
export { fixesAt, rewritesAt } from '../workspace/actions.js';
export { completionSupplies } from '../workspace/completionSupplies.js';
export { bringSweepsIn } from './bringIn.js';
export { ComparePanels } from './compare/comparePanels.js';
export { CurvesPanels } from './preview/curvesPanels.js';
export { writeReport } from './writeReport.js';
