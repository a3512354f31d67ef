/**
 * The few globals beyond ECMAScript that every host of the core has (browsers, Node, editors; WHATWG Encoding and DOM
 * standards). The core compiles against these and no others.
 */
interface TextDecoder {
  readonly encoding: string;
  decode(input?: ArrayBufferView | ArrayBufferLike, options?: { stream?: boolean }): string;
}
declare const TextDecoder: {
  new (label?: string, options?: { fatal?: boolean; ignoreBOM?: boolean }): TextDecoder;
};

/** Node alone has it; ask before. */
declare const setImmediate: ((task: () => void) => unknown) | undefined;

interface AbortSignal {
  readonly aborted: boolean;
}
