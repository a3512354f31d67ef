/** Answers to what was asked, held against the notation itself. */
import { decodeBlock } from '../campaign/decodeBlock.js';
import type { Campaign } from '../campaign/model.js';
import { isAddressFault, parseAddress } from '../campaign/names.js';
import { parseDocument } from '../syntax/document.js';
import { addressNamed } from './addressNamed.js';
import type { Asked } from './tableFacts.js';

/** What is wrong with an answer, in words; undefined when it can be written as it is. */
export function faultOfAnswer(
  asked: Asked,
  text: string,
  kind: 'sweep' | 'sweeps',
  campaign: Campaign,
): string | undefined {
  const answer = text.trim();
  if (answer === '') return `Write ${examples[asked]}.`;
  if (/[\r\n#]/.test(answer)) return 'One line, without a comment.';
  if (asked === 'address') return faultOfAddress(answer, campaign);
  return faultOfBlock(asked === 'time' ? blockAt(answer) : blockWith(asked, answer, kind));
}

const examples: Readonly<Record<Asked, string>> = {
  address: '1.03, 1.03/11 or 1.03/1-9',
  time: '2026-05-14 11:42',
  irradiance: '812 W/m2',
  temperature: '44.1 degC cell',
};

const blockAt = (time: string): string => `sweep x at ${time}\n  data "x"\n`;

function blockWith(property: string, value: string, kind: 'sweep' | 'sweeps'): string {
  const header =
    kind === 'sweep' ? 'sweep x at 2026-01-01 12:00\n  data "x"' : 'sweeps from "x"\n  address "x"';
  return `${header}\n  ${property} ${value}\n`;
}

function faultOfBlock(text: string): string | undefined {
  const placed = parseDocument(text).blocks.find(({ block }) => block.header);
  const fault = placed && decodeBlock(placed.block).problems.find(({ severity }) => severity === 'error');
  return fault?.message.replaceAll('`', '');
}

function faultOfAddress(text: string, campaign: Campaign): string | undefined {
  const parsed = parseAddress(text);
  if (isAddressFault(parsed)) return parsed.message.replaceAll('`', '');
  if (campaign.strings.size === 0 || addressNamed(text, campaign) !== undefined) return undefined;
  return campaign.strings.has(parsed.string)
    ? `String ${parsed.string} has fewer modules.`
    : `The campaign has no string ${parsed.string}.`;
}
