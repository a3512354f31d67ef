// @ts-check
/** `npm run editor`: VS Code in the browser with this extension, opened at the examples. Ctrl+C ends it. */
import { existsSync } from 'node:fs';
import path from 'node:path';
import { projectFolder } from './editorInstall.mjs';
import { startEditor } from './editorServer.mjs';

const vsix = path.join(projectFolder, 'dist/sweepbook.vsix');
if (!existsSync(vsix)) {
  console.error('There is no dist/sweepbook.vsix; "npm run package" makes it.');
  process.exit(1);
}
const server = await startEditor({ folder: path.join(projectFolder, 'examples'), vsix });
console.log(`\nOpen ${server.url}\nin a browser on this machine. Ctrl+C ends it.`);
for (const signal of ['SIGINT', 'SIGTERM']) {
  process.once(signal, () => void server.stop().then(() => process.exit(0)));
}
