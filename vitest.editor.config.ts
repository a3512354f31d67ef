import { defineConfig } from 'vitest/config';

/** Tests that need Chromium, other versions of Node, and for the last of them the editor itself in the browser. */
export default defineConfig({
  test: {
    include: ['tests/engines/**/*.test.ts', 'tests/realEditor/**/*.test.ts'],
    testTimeout: 240_000,
    hookTimeout: 600_000,
    // One browser at a time.
    fileParallelism: false,
    // A window on a loaded machine may miss a key; what is broken fails twice.
    retry: 1,
    // Each test goes on from where the one before it left the window: what comes after a failure says nothing.
    bail: 1,
  },
});
