// @ts-check
/** Installs what the tests in the editor need and this machine does not have. */
import { installedEditor, installedNodes, installedWebEditor, needChromium } from './editorInstall.mjs';

needChromium();
installedEditor();
installedWebEditor();
installedNodes();
