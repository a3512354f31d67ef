import { splitWords } from '../sweeps/headerWords.js';

const cellWords = /^(?:cells?|zell\w*|celdas?|celulas?|cellules?|cell[ae]|tcell|celltemp\w*|tc)$/;
const moduleWords =
  /^(?:mod(?:ule?s?|ulo|ul\w*)?|back|ruck\w*|surface|bom|tmod\w*|tbom|moduletemp\w*|panel|panneau|pannello)$/;

/** Which temperature a header speaks of; undefined where it does not say. */
export function temperatureKindOf(header: string): 'cell' | 'module' | undefined {
  const found = splitWords(header);
  const isModule = found.some((word) => moduleWords.test(word));
  const isCell = found.some((word) => cellWords.test(word));
  if (isModule === isCell) return undefined;
  return isCell ? 'cell' : 'module';
}
