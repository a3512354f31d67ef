export { githubAnnotations, gitlabCodeQuality } from './annotations.js';
export { shownProblems, type ShownProblem } from './checkedCampaign.js';
export { junit, junitSuite, type JunitSuite } from './junit.js';
export { markdownSummary } from './markdownSummary.js';
export { sarif } from './sarif.js';
