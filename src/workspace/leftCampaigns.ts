/** What was read for each campaign, so that it can be let go some time after the campaign was closed. Knows no editor. */

/** Somebody who goes to and fro between campaigns finds this many of those left last as quick as before. */
const mostKept = 3;

export interface CampaignReading {
  readonly root: string;
  readonly files: readonly string[];
  readonly dataFiles: readonly string[];
}

export class LeftCampaigns {
  /** Everything that a campaign has named since it was opened, by its root. */
  readonly #readFor = new Map<string, Set<string>>();
  /** Roots of the campaigns that were left and are still kept, the latest last. */
  readonly #left = new Set<string>();

  /** A campaign was computed. */
  read({ root, files, dataFiles }: CampaignReading): void {
    this.#left.delete(root);
    let known = this.#readFor.get(root);
    if (!known) this.#readFor.set(root, (known = new Set()));
    for (const file of files) known.add(file);
    for (const file of dataFiles) known.add(file);
  }

  /**
   * A campaign was left.
   * @returns the campaigns that are to be let go now, each with the files that no other one has named
   */
  leave(root: string): { readonly root: string; readonly files: readonly string[] }[] {
    this.#left.delete(root);
    this.#left.add(root);
    const oldest = [...this.#left].slice(0, -mostKept);
    return oldest.map((each) => ({ root: each, files: this.#takeOut(each) }));
  }

  #takeOut(root: string): string[] {
    const files = [...(this.#readFor.get(root) ?? [])];
    this.#left.delete(root);
    this.#readFor.delete(root);
    const others = [...this.#readFor.values()];
    return files.filter((file) => !others.some((named) => named.has(file)));
  }
}
