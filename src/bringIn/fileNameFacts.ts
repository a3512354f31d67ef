/** What the name of a file tells: a day and a time in the order of ISO 8601, and the name of a string of the campaign. */
import type { Campaign } from '../campaign/model.js';
import { normalName } from '../campaign/names.js';
import { parseTime } from '../campaign/time.js';
import { addressNamed } from './addressNamed.js';
import { noFacts, type Found, type TableFacts } from './tableFacts.js';

const timeInName =
  /(?<!\d)((?:19|20)\d{2})([-_.]?)(\d{2})\2(\d{2})(?:(?:[T_ -]+|(?<=\d{8})T?)(\d{2})[-:_.h]?(\d{2})(?:[-:_.m]?(\d{2}))?s?)?(?!\d)/;

export function fileNameFacts(path: string, campaign: Campaign): TableFacts {
  const base = normalName(/[^/]*$/.exec(path)![0].replace(/\.[^.]*$/, ''));
  const whole = addressNamed(base, campaign);
  if (whole !== undefined) return { ...noFacts, address: { fact: { text: whole, source } } };
  const match = timeInName.exec(base);
  const time = match ? timeOf(match) : {};
  const isTime = match !== null && (time.fact ?? time.suggestion) !== undefined;
  const rest = isTime ? `${base.slice(0, match.index)}_${base.slice(match.index + match[0].length)}` : base;
  return { ...noFacts, time, address: addressIn(rest.replace(/^[_\s.-]+|[_\s.-]+$/g, ''), campaign) };
}

const source = 'the file name';

function timeOf(match: RegExpExecArray): Found {
  const [, year, , month, day, hour, minute, second = '00'] = match;
  const date = `${year!}-${month!}-${day!}`;
  if (!parseTime(`${date} 00:00`)) return {};
  const text = `${date} ${hour!}:${minute!}${second === '00' ? '' : `:${second}`}`;
  if (hour === undefined || !parseTime(text)) return { suggestion: `${date} ` };
  return { fact: { text, source } };
}

/**
 * A name counts when it is all of the text, or a piece of it between underscores or spaces, or its beginning before words without
 * digits (`1.03-first`). Digits beside it that were not understood may be a position or a count, so the name is then only offered.
 */
function addressIn(text: string, campaign: Campaign): Found {
  const whole = addressNamed(text, campaign);
  if (whole !== undefined) return { fact: { text: whole, source } };
  const pieces = text.split(/[_\s()[\],;]+/).filter((piece) => piece !== '');
  const named = new Set<string>();
  let others = '';
  for (const piece of pieces) {
    const address = addressNamed(piece, campaign);
    const begins = address === undefined ? beginningOf(piece, campaign) : undefined;
    if (address !== undefined) named.add(address);
    else if (begins !== undefined) {
      named.add(begins);
      others += ` ${piece.slice(begins.length)}`;
    } else others += ` ${piece}`;
  }
  if (named.size !== 1)
    return named.size === 0 ? {} : { doubt: `${source} holds ${[...named].join(' and ')}` };
  const [only] = named as unknown as [string];
  if (!/\d/.test(others)) return { fact: { text: only, source } };
  return {
    suggestion: withPosition(only, others, campaign),
    doubt: `${source} has more digits beside ${only}: a position, a count?`,
  };
}

/** The longest name that the piece begins with, up to a hyphen. */
function beginningOf(piece: string, campaign: Campaign): string | undefined {
  for (let end = piece.lastIndexOf('-'); end > 0; end = piece.lastIndexOf('-', end - 1)) {
    const name = piece.slice(0, end);
    if (campaign.strings.has(name)) return name;
  }
  return undefined;
}

/** `1.03/11` for `-m11`, `1.03/1-9` for `-section-1-9`: offered, never taken. */
function withPosition(string: string, others: string, campaign: Campaign): string {
  const position = /(?:^|[\s_-])(?:m|mod|module?|modul|section|sec|pos)[ _-]?(\d+(?:-\d+)?)\s*$/i.exec(
    others,
  );
  const address = position && addressNamed(`${string}/${position[1]!}`, campaign);
  return address ?? string;
}
