/** Entry in the browser's worker. */
export { activate } from './activate.js';
