/**
 * Results remembered: each holds as long as everything it was computed from is the same object or the same value. An edit
 * replaces only the records of the blocks it touched, so only what depends on them is computed again.
 */
interface Entry {
  readonly dependencies: readonly unknown[];
  readonly result: unknown;
}

export class Remembered<T> {
  readonly #byOwner = new WeakMap<object, Map<string, Entry>>();

  /**
   * What `compute` answered when it last ran for this owner and key with the same dependencies, else what it answers now.
   * @param owner whose end of life ends the memory: a record, a table
   */
  get(owner: object, key: string, dependencies: readonly unknown[], compute: () => T): T {
    const entry = this.#entry(owner, key, dependencies);
    if (entry) return entry.result as T;
    const result = compute();
    this.set(owner, key, dependencies, result);
    return result;
  }

  /** What is remembered; undefined where nothing is. */
  known(owner: object, key: string, dependencies: readonly unknown[]): T | undefined {
    return this.#entry(owner, key, dependencies)?.result as T | undefined;
  }

  has(owner: object, key: string, dependencies: readonly unknown[]): boolean {
    return this.#entry(owner, key, dependencies) !== undefined;
  }

  /** Takes a result for remembered that was computed elsewhere. */
  set(owner: object, key: string, dependencies: readonly unknown[], result: T): void {
    let ofOwner = this.#byOwner.get(owner);
    if (!ofOwner) this.#byOwner.set(owner, (ofOwner = new Map()));
    ofOwner.set(key, { dependencies, result });
  }

  #entry(owner: object, key: string, dependencies: readonly unknown[]): Entry | undefined {
    const known = this.#byOwner.get(owner)?.get(key);
    return known && sameItems(known.dependencies, dependencies) ? known : undefined;
  }
}

function sameItems(a: readonly unknown[], b: readonly unknown[]): boolean {
  if (a.length !== b.length) return false;
  for (let index = 0; index < a.length; index++) if (!Object.is(a[index], b[index])) return false;
  return true;
}
