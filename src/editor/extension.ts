/** Entry on the desktop and on a remote host. */
export { activate } from './activate.js';
