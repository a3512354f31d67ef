export { githubAnnotations, gitlabCodeQuality } from './annotations.js';
export { junit } from './junit.js';
export { markdownSummary } from './markdownSummary.js';
export { sarif } from './sarif.js';
