import { readFileSync } from 'node:fs';
import { defineConfig, type Plugin } from 'vitest/config';

/** Fonts as the build of the bundles has them: their bytes. */
const fontBytes: Plugin = {
  name: 'font-bytes',
  enforce: 'pre',
  load(id) {
    const file = id.split('?')[0]!;
    if (!file.endsWith('.ttf')) return undefined;
    const bytes = readFileSync(file).toString('base64');
    return `export default Uint8Array.from(atob('${bytes}'), (character) => character.charCodeAt(0));`;
  },
};

export default defineConfig({
  plugins: [fontBytes],
  test: {
    include: ['tests/**/*.test.ts'],
    // Those need a browser, an editor host and other versions of Node, or minutes; `.ci/run` starts them on their own.
    exclude: ['tests/engines/**', 'tests/realEditor/**', 'tests/soak/**', 'node_modules/**'],
    // Generous: machines differ, and no test is about time.
    testTimeout: 90_000,
    maxWorkers: '100%',
  },
});
