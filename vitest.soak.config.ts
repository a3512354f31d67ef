import { defineConfig } from 'vitest/config';

/** `npm run soak`: what is kept of campaigns that were closed, in the language server and in the editor. */
export default defineConfig({
  test: {
    include: ['tests/soak/**/*.test.ts'],
    testTimeout: 3_600_000,
    hookTimeout: 600_000,
    fileParallelism: false,
  },
});
