/** Resolves after the host's other work has had its turn. */
export function aTurn(): Promise<void> {
  return new Promise((resolve) => {
    setTimeout(resolve, 0);
  });
}

/** Lets the host's other work have its turn whenever a computation has run this long, so that typing never waits. */
export function breatheEvery(milliseconds: number): () => Promise<void> | undefined {
  let last = Date.now();
  return () => {
    if (Date.now() - last < milliseconds) return undefined;
    return aTurn().then(() => {
      last = Date.now();
    });
  };
}
