/**
 * Builds what is shipped into dist/. `node esbuild.mjs [--only cli,webview] [--quiet] [--watch] [--into dist]`.
 * Targets: cli, analyst, extension, extension-web, analyst-web, report, webview.
 */
import { createHash } from 'node:crypto';
import { chmodSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { parseArgs } from 'node:util';
import * as esbuild from 'esbuild';
import { notices } from './.ci/notices.mjs';

/** Parts of vega that register what no chart here asks for: an eighth of the panel's program. */
const vegaUnasked = [
  'crossfilter',
  'force',
  'geo',
  'hierarchy',
  'label',
  'regression',
  'voronoi',
  'wordcloud',
];

/**
 * For `import * as vscode` in a program of CommonJS esbuild copies the names of the editor's interface, some 450, in every file
 * anew: a third of the time that the extension took to load. Nothing here needs a copy.
 * @param {string} program
 */
const withoutCopies = (program) => program.replace(/[\w$]+\((require\("vscode"\))(?:, ?1)?\)/g, '$1');

/**
 * Each file that was built is written as `mend` returns it.
 * @param {esbuild.PluginBuild} build
 * @param {(program: string) => string} mend
 */
function writeMended({ initialOptions, onEnd }, mend) {
  initialOptions.write = false;
  onEnd(({ outputFiles = [] }) => {
    for (const { path, text } of outputFiles) {
      mkdirSync(dirname(path), { recursive: true });
      writeFileSync(path, mend(text));
    }
  });
}

/** @type {esbuild.Plugin} */
const oneFile = { name: 'one-file', setup: (build) => writeMended(build, withoutCopies) };

/**
 * `extension.cjs`, what it imports from `src/editor/later.ts` once that is needed (`extension.later.cjs`), and what both share
 * (`extension.chunk.cjs`). esbuild divides ES modules only; editors before 1.100 read CommonJS only.
 * @type {esbuild.Plugin}
 */
const startAndLater = {
  name: 'start-and-later',
  setup(build) {
    const { initialOptions } = build;
    initialOptions.outdir = dirname(initialOptions.outfile ?? '');
    delete initialOptions.outfile;
    Object.assign(initialOptions, {
      splitting: true,
      format: 'esm',
      outExtension: { '.js': '.cjs' },
      chunkNames: 'extension.[name]',
    });
    writeMended(build, (program) => {
      const { code } = esbuild.transformSync(program, {
        format: 'cjs',
        platform: 'node',
        target: 'node20',
        supported: { 'dynamic-import': false },
        minify: true,
      });
      return withoutCopies(code);
    });
  },
};

/** @type {esbuild.BuildOptions} */
const common = {
  bundle: true,
  sourcemap: false,
  legalComments: 'none',
  logLevel: 'warning',
  loader: { '.ttf': 'binary' },
  // Only fonts packed as WOFF2 need it, and there are none: it would be a seventh of the program.
  alias: {
    'brotli/decompress.js': './src/report/pdf/noBrotli.ts',
    ...Object.fromEntries(vegaUnasked.map((part) => [`vega-${part}`, './src/webview/noTransforms.ts'])),
  },
};

/** Stands in the program until its text is known. */
const unknownBuild = '0'.repeat(64);

/**
 * Writes the hash of the program into the program, so that what one build has computed is not taken for what another would.
 * @type {esbuild.Plugin}
 */
const stampBuild = {
  name: 'stamp-build',
  setup(build) {
    build.onEnd(({ errors }) => {
      const { outfile } = build.initialOptions;
      if (errors.length > 0 || !outfile) return;
      const text = readFileSync(outfile, 'utf8');
      writeFileSync(outfile, text.replace(unknownBuild, createHash('sha256').update(text).digest('hex')));
    });
  },
};

/** @type {Record<string, esbuild.BuildOptions & { outfile: string }>} */
const targets = {
  cli: {
    ...common,
    entryPoints: ['src/cli/main.ts'],
    outfile: 'dist/cli.mjs',
    platform: 'node',
    format: 'esm',
    target: 'node20',
    define: { SWEEPBOOK_BUILD: JSON.stringify(unknownBuild) },
    plugins: [stampBuild],
    // Some dependencies are CommonJS and ask for Node's own modules by `require`.
    banner: {
      js: "#!/usr/bin/env node\nimport { createRequire as sweepbookRequire } from 'node:module';\nconst require = sweepbookRequire(import.meta.url);",
    },
  },
  // What threads of the command line and of the extension on the desktop run.
  analyst: {
    ...common,
    entryPoints: ['src/threads/node/analyst.ts'],
    outfile: 'dist/analyst.cjs',
    platform: 'node',
    format: 'cjs',
    target: 'node20',
    minify: true,
  },
  extension: {
    ...common,
    entryPoints: ['src/desktop/extension.ts'],
    outfile: 'dist/extension.cjs',
    platform: 'node',
    target: 'node20',
    external: ['vscode'],
    plugins: [startAndLater],
    minify: true,
  },
  'extension-web': {
    ...common,
    entryPoints: ['src/editor/extension.web.ts'],
    outfile: 'dist/extension.web.js',
    platform: 'browser',
    format: 'cjs',
    target: 'es2022',
    // papaparse names Node's streams in a function that nobody calls here.
    external: ['vscode', 'stream'],
    plugins: [oneFile],
    minify: true,
  },
  // What workers of the extension in the browser run.
  'analyst-web': {
    ...common,
    entryPoints: ['src/threads/web/analyst.ts'],
    outfile: 'dist/analyst.web.js',
    platform: 'browser',
    format: 'iife',
    target: 'es2022',
    external: ['stream'],
    minify: true,
  },
  // What the extension loads when a report is asked for.
  report: {
    ...common,
    entryPoints: ['src/report/renderReport.ts'],
    outfile: 'dist/report.js',
    // pdfkit names a colour profile beside itself, which nothing here reads.
    define: { 'import.meta.url': '"file:///report.js"' },
    platform: 'browser',
    format: 'cjs',
    target: 'es2022',
    minify: true,
    keepNames: true,
  },
  // Measures; not shipped.
  bench: {
    ...common,
    entryPoints: ['tests/bench/bench.ts'],
    outfile: 'dist/bench.mjs',
    platform: 'node',
    format: 'esm',
    target: 'node20',
  },
  // Writes the data of the examples; not shipped.
  simulate: {
    ...common,
    entryPoints: ['examples/simulateAll.ts'],
    outfile: 'dist/simulate.mjs',
    platform: 'node',
    format: 'esm',
    target: 'node20',
  },
  // Counts what a diagnosis gets right; not shipped.
  confusion: {
    ...common,
    entryPoints: ['tests/faults/confusionMain.ts'],
    outfile: 'dist/confusion.mjs',
    platform: 'node',
    format: 'esm',
    target: 'node20',
    banner: {
      js: "import { createRequire as sweepbookRequire } from 'node:module';\nconst require = sweepbookRequire(import.meta.url);",
    },
  },
  webview: {
    ...common,
    entryPoints: ['src/webview/main.tsx'],
    outfile: 'dist/webview.js',
    platform: 'browser',
    format: 'iife',
    target: 'es2022',
    jsx: 'automatic',
    jsxImportSource: 'preact',
    minify: true,
  },
};

const { values } = parseArgs({
  options: {
    only: { type: 'string' },
    quiet: { type: 'boolean' },
    watch: { type: 'boolean' },
    into: { type: 'string' },
  },
});
if (values.into)
  for (const target of Object.values(targets)) target.outfile = join(values.into, basename(target.outfile));
const chosen = values.only ? values.only.split(',') : Object.keys(targets);
const unknown = chosen.filter((name) => !(name in targets));
if (unknown.length > 0) {
  console.error(`Unknown target ${unknown.join(', ')}; there are ${Object.keys(targets).join(', ')}.`);
  process.exit(3);
}

if (values.watch) {
  for (const name of chosen) {
    const context = await esbuild.context({ ...targets[name], logLevel: 'info' });
    await context.watch();
  }
} else {
  try {
    const built = await Promise.all(
      chosen.map((name) => esbuild.build({ ...targets[name], metafile: true })),
    );
    if (!values.quiet) for (const { metafile } of built) Object.keys(metafile.outputs).forEach(printSize);
    // Of the shipped ones together, so not where only some are built.
    if (!values.only)
      writeFileSync(
        join(values.into ?? 'dist', 'THIRD-PARTY-NOTICES.txt'),
        notices(built.flatMap(({ metafile }) => metafile ?? [])),
      );
  } catch (error) {
    // esbuild has printed what is wrong by itself.
    if (!(error instanceof Error && 'errors' in error)) console.error(error);
    process.exit(1);
  }
  if (chosen.includes('extension')) writeDemo(join(values.into ?? 'dist', 'demo.json'));
  if (chosen.includes('cli')) chmodSync(targets.cli.outfile, 0o755);
}

/**
 * The demo as one file, texts by path: an extension in the browser cannot list its own folder.
 * @param {string} outfile
 */
function writeDemo(outfile) {
  const folder = 'examples/harrow-fen';
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((name) => name.replaceAll('\\', '/'))
    .filter((name) => /\.(sweepbook|csv)$/.test(name))
    .sort();
  const texts = Object.fromEntries(names.map((name) => [name, readFileSync(join(folder, name), 'utf8')]));
  mkdirSync(dirname(outfile), { recursive: true });
  writeFileSync(outfile, JSON.stringify(texts));
}

/** @param {string} file */
function printSize(file) {
  const kilobytes = (/** @type {number} */ bytes) => `${(bytes / 1024).toFixed(0)} KB`.padStart(8);
  const size = statSync(file).size;
  console.log(
    `${file.padEnd(24)}${kilobytes(size)}  ${kilobytes(gzipSync(readFileSync(file)).length)} gzipped`,
  );
}
