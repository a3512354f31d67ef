/**
 * Which character sets fields apart: recognised from the first rows that hold at least two numbers, so that lines of
 * words above the table do not matter. A semicolon, tab or bar outranks a comma, which may be a decimal sign.
 */
import { looksNumeric } from './numberText.js';
import { readHeaderCell } from './headerWords.js';

export type Delimiter = ',' | ';' | '\t' | '|' | ' ';

const candidates: readonly Delimiter[] = [';', '\t', '|', ',', ' '];
const enoughRows = 8;
const headLines = 500;

interface Score {
  /** Rows with at least two numbers. */
  rows: number;
  numbers: number;
  fields: number;
}

export function recogniseDelimiter(text: string): Delimiter {
  const declared = /^\uFEFF?sep=([,;\t|])\n/.exec(text.slice(0, 8));
  if (declared) return declared[1] as Delimiter;
  const scores = candidates.map((): Score => ({ rows: 0, numbers: 0, fields: 0 }));
  const head: string[] = [];
  for (let start = 0; start < text.length && head.length < headLines;) {
    const newline = text.indexOf('\n', start);
    const end = newline < 0 ? text.length : newline;
    const line = text.slice(start, Math.min(end, start + 2000));
    head.push(line);
    candidates.forEach((candidate, at) => scoreLine(line, candidate, scores[at]!));
    if (scores.some((score) => score.rows >= enoughRows)) break;
    start = end + 1;
  }
  return bestByNumbers(scores) ?? bestByWords(head);
}

function scoreLine(line: string, delimiter: Delimiter, score: Score): void {
  if (!line.includes(delimiter)) return;
  const fields = splitLine(line, delimiter);
  let numbers = 0;
  for (const field of fields) if (looksNumeric(field)) numbers++;
  if (numbers < 2) return;
  score.rows++;
  score.numbers += numbers;
  score.fields += fields.length;
}

function splitLine(line: string, delimiter: Delimiter): string[] {
  const hidden = line.includes('"')
    ? line.replace(/"[^"]*"/g, (quoted) => quoted.replaceAll(delimiter, '.'))
    : line;
  return delimiter === ' ' ? hidden.trim().split(/ +/) : hidden.split(delimiter);
}

function bestByNumbers(scores: readonly Score[]): Delimiter | undefined {
  const most = Math.max(...scores.map((score) => score.rows));
  if (most === 0) return undefined;
  const hard = scores.findIndex((score, at) => at < 3 && score.rows === most);
  if (hard >= 0) return candidates[hard];
  const [comma, space] = [scores[3]!, scores[4]!];
  if (comma.rows !== space.rows) return comma.rows > space.rows ? ',' : ' ';
  return comma.numbers / comma.fields >= space.numbers / space.fields ? ',' : ' ';
}

/** No numbers: the delimiter that lets most header words be understood. */
function bestByWords(head: readonly string[]): Delimiter {
  let best: Delimiter = ',';
  let most = 0;
  for (const candidate of candidates) {
    // Units stand behind a space: `Voltage (V),Current (A)` has two fields.
    if (candidate === ' ' && most >= 2) break;
    for (const line of head.slice(0, 60)) {
      if (!line.includes(candidate)) continue;
      const known = splitLine(line, candidate).filter((cell) => readHeaderCell(cell).role).length;
      if (known > most) [best, most] = [candidate, known];
    }
  }
  return best;
}
