import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    // The real-editor tests need a browser and an editor host; `.ci/run` starts them on their own.
    exclude: ['tests/realEditor/**', 'node_modules/**'],
    testTimeout: 20_000,
  },
});
