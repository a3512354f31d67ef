import type { Range } from '../text/place.js';
import type { Decoded } from './decodeValue.js';
import type { Words } from './model.js';
import type { FormKind } from './valueForms.js';

/** The decoded properties of one block. A property that is absent or could not be read has no value. */
export class PropertyValues {
  readonly #values = new Map<string, { readonly kind: FormKind; readonly value: unknown }>();
  readonly ranges = new Map<string, Range>();
  readonly notes: Words[] = [];

  set(name: string, kind: FormKind, value: unknown): void {
    if (value !== undefined) this.#values.set(name, { kind, value });
  }

  /** Forgets a value that cannot be; the property stays written. */
  drop(name: string): void {
    this.#values.delete(name);
  }

  /** Was the property written, well or badly? */
  wrote(name: string): boolean {
    return this.ranges.has(name);
  }

  /** The value, for a property that the table gives the form `kind`. */
  get<K extends FormKind>(kind: K, name: string): Decoded[K] | undefined {
    const found = this.#values.get(name);
    return found?.kind === kind ? (found.value as Decoded[K]) : undefined;
  }
}
