import type * as vscode from 'vscode';

/** A part of the extension that is made when somebody first asks for it, of code that is imported then (`later.ts`). */
export class OnUse<Part extends vscode.Disposable> implements vscode.Disposable {
  readonly #make: () => Promise<Part>;
  #made: Promise<Part> | undefined;

  constructor(make: () => Promise<Part>) {
    this.#make = make;
  }

  /** Once for all; a failure is not kept. */
  get(): Promise<Part> {
    this.#made ??= this.#make().catch((error: unknown) => {
      this.#made = undefined;
      throw error;
    });
    return this.#made;
  }

  dispose(): void {
    void this.#made?.then((part) => void part.dispose());
  }
}
