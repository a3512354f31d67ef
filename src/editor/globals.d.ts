/** What both hosts of the extension have, Node and the browser's worker, and the editor's own types do not declare. */
declare function setTimeout(run: () => void, milliseconds: number): unknown;
declare function clearTimeout(timer: unknown): void;

declare class AbortController {
  readonly signal: AbortSignal;
  abort(): void;
}

declare class TextEncoder {
  encode(text: string): Uint8Array;
}

declare const crypto: { getRandomValues(array: Uint8Array): Uint8Array };

/** Bytes of base 64, one character each. */
declare function atob(base64: string): string;
