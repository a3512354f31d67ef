/**
 * DejaVu Sans Condensed: it has the Latin, Greek and Cyrillic letters, the signs and the marks of the verdicts, and its licence
 * lets it be shipped and embedded. A PDF holds only the characters that it uses.
 */
import bold from 'dejavu-fonts-ttf/ttf/DejaVuSansCondensed-Bold.ttf';
import text from 'dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf';
import type { Fonts } from './sheet.js';

export const fonts: Fonts = { text, bold };
