/** What the host of the extension has beside the editor; the entries tell, and nothing else knows where it runs. */
import type { ThreadHost } from '../evaluation/ports.js';

/** Where a path of this machine leads once every link in it is followed; rejects where nothing is. */
export type FollowLinks = (path: string) => Promise<string>;

export interface Machine {
  /** Where it has some for analysts. */
  readonly threads?: ThreadHost;
  /** Where it has a disk. */
  readonly followLinks?: FollowLinks;
}
