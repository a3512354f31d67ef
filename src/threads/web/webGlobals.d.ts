/** What of a browser's workers is asked for here (HTML standard); the rest of the DOM is nobody's here. */
declare class Worker {
  constructor(url: string);
  onmessage: ((event: { readonly data: unknown }) => void) | null;
  onmessageerror: (() => void) | null;
  onerror: ((event: { preventDefault(): void }) => void) | null;
  postMessage(message: unknown): void;
  terminate(): void;
}
interface Blob {
  readonly type: string;
}
declare const Blob: {
  new (parts: readonly Uint8Array[], options: { readonly type: string }): Blob;
};
declare const URL: {
  createObjectURL(blob: Blob): string;
  revokeObjectURL(url: string): void;
};
declare function postMessage(message: unknown): void;
declare function addEventListener(
  type: 'message',
  listener: (event: { readonly data: unknown }) => void,
): void;
