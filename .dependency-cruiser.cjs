/**
 * The one-way flow of the project: text -> syntax -> campaign -> sweeps -> physics -> analysis -> diagnosis -> checks
 * -> cases -> evaluation -> presentation -> {report, workspace} -> {editor, webview, server, cli}. Each folder lists the folders
 * it may import and the npm packages it may use; everything else is an error.
 */
const folders = {
  text: { folders: [], packages: [] },
  syntax: { folders: ['text'], packages: [] },
  campaign: { folders: ['text', 'syntax'], packages: ['temporal-polyfill'] },
  physics: { folders: [], packages: ['astronomy-engine'] },
  sweeps: { folders: ['text', 'campaign', 'physics'], packages: ['papaparse'] },
  moduleTable: { folders: ['text', 'syntax', 'campaign', 'sweeps'], packages: [] },
  analysis: { folders: ['text', 'campaign', 'sweeps', 'physics'], packages: [] },
  electricalTests: { folders: ['text', 'campaign', 'physics', 'analysis'], packages: [] },
  diagnosis: { folders: ['text', 'campaign', 'sweeps', 'physics', 'analysis'], packages: [] },
  checks: { folders: ['text', 'campaign', 'sweeps', 'physics', 'analysis', 'diagnosis'], packages: [] },
  cases: {
    folders: ['text', 'campaign', 'sweeps', 'physics', 'analysis', 'diagnosis', 'checks'],
    packages: [],
  },
  evaluation: {
    folders: [
      'text',
      'syntax',
      'campaign',
      'sweeps',
      'physics',
      'analysis',
      'electricalTests',
      'diagnosis',
      'checks',
      'cases',
    ],
    packages: [],
  },
  difference: {
    folders: ['text', 'syntax', 'campaign', 'sweeps', 'analysis', 'electricalTests', 'cases', 'evaluation'],
    packages: [],
  },
  presentation: {
    folders: [
      'difference',
      'electricalTests',
      'text',
      'syntax',
      'campaign',
      'sweeps',
      'physics',
      'analysis',
      'diagnosis',
      'checks',
      'cases',
      'evaluation',
    ],
    packages: ['zod', 'vega-lite'],
  },
  export: {
    folders: ['text', 'campaign', 'physics', 'electricalTests', 'diagnosis', 'evaluation'],
    packages: ['papaparse', 'hyparquet-writer'],
  },
  bringIn: {
    folders: ['text', 'syntax', 'campaign', 'sweeps', 'physics', 'presentation'],
    packages: [],
  },
  workspace: { folders: ['text', 'syntax', 'evaluation', 'presentation'], packages: [] },
  report: {
    folders: [
      'text',
      'campaign',
      'analysis',
      'electricalTests',
      'diagnosis',
      'cases',
      'evaluation',
      'presentation',
    ],
    packages: ['vega', 'vega-lite', 'vega-interpreter', 'pdfkit', 'svg-to-pdfkit', 'dejavu-fonts-ttf'],
  },
  results: { folders: ['campaign', 'evaluation', 'presentation'], packages: [] },
  ci: {
    folders: ['text', 'campaign', 'cases', 'evaluation', 'presentation'],
    packages: ['junit-report-builder', 'node-sarif-builder'],
  },
  messages: { folders: ['presentation'], packages: ['zod'] },
  editor: {
    // Of report the types and the tables of choices alone: what draws is loaded from its own bundle.
    folders: [
      'report',
      'text',
      'syntax',
      'campaign',
      'analysis',
      'cases',
      'evaluation',
      'difference',
      'presentation',
      'bringIn',
      'workspace',
      'messages',
      'threads/web',
    ],
    packages: ['vscode'],
  },
  webview: {
    folders: ['messages', 'presentation'],
    packages: ['preact', 'vega', 'vega-lite', 'vega-interpreter'],
  },
  server: {
    folders: ['text', 'syntax', 'evaluation', 'presentation', 'workspace'],
    packages: ['vscode-languageserver', 'vscode-languageserver-textdocument', 'zod'],
    node: true,
  },
  // Its entry where there is Node, and nothing else.
  desktop: { folders: ['editor', 'threads/node'], packages: ['vscode'], node: true },
  'threads/node': { folders: ['evaluation'], packages: [], node: true },
  'threads/web': { folders: ['evaluation'], packages: [] },
  cli: {
    folders: [
      'threads/node',
      'text',
      'syntax',
      'campaign',
      'sweeps',
      'moduleTable',
      'analysis',
      'cases',
      'evaluation',
      'difference',
      'export',
      'presentation',
      'bringIn',
      'workspace',
      'server',
      'report',
      'results',
      'ci',
    ],
    packages: ['commander', 'tinyglobby', 'env-paths', 'zod'],
    node: true,
  },
};

const nodeModule = (packages) =>
  `node_modules/(@types/)?(${packages.map((p) => p.replace('/', '\\/')).join('|')})(/|$)`;

const forbidden = [
  { name: 'no-circular', severity: 'error', from: {}, to: { circular: true } },
  ...Object.entries(folders).map(([name, may]) => ({
    name: `${name}-imports-only-what-it-may`,
    comment: `src/${name} may import ${['itself', ...may.folders, ...may.packages, ...(may.node ? ['node:'] : [])].join(', ')}`,
    severity: 'error',
    from: { path: `^src/${name}/` },
    to: {
      pathNot: [
        `^src/(${[name, ...may.folders].join('|')})/`,
        // The version number of the program.
        ...(may.node ? ['^package\\.json$'] : []),
        ...(may.packages.length > 0 ? [nodeModule(may.packages), `^(${may.packages.join('|')})$`] : []),
      ],
      ...(may.node ? { dependencyTypesNot: ['core'] } : {}),
    },
  })),
];

module.exports = {
  forbidden,
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.base.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'types', 'default'] },
  },
};
