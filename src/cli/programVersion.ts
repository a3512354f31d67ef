import { version } from '../../package.json';

/** From the package file at the time the program was built. */
export const programVersion = version;
