/** Photographs and other files that notes and remarks name, so that nobody has to look for them in the text. */
import type { Campaign } from '../campaign/model.js';
import { stringOf } from '../campaign/names.js';
import { missing } from '../presentation/formatNumber.js';
import { timeText } from '../presentation/sweepTexts.js';
import type { ReportContext } from './context.js';
import type { Block, ShownPicture } from './document.js';
import { pictureKey } from './pictures.js';

export interface NamedFile {
  /** As written. */
  readonly name: string;
  /** The campaign file that names it. */
  readonly from: string;
  /** Of the device, as written; empty where the text speaks of none. */
  readonly address: string;
  readonly time: string;
  /** The text that names it. */
  readonly text: string;
}

/** Letters of every language. A name begins where nothing of one stands before it: each place of a long text is tried once. */
const fileName =
  /(?<![\p{L}\p{M}\p{N}_./\\-])[\p{L}\p{M}\p{N}_./\\-]*[\p{L}\p{M}\p{N}_-]\.(?:jpe?g|png|gif|webp|heic|tiff?|pdf|mp4|mov|csv|xlsx?|docx?|zip)(?![\p{L}\p{M}\p{N}_])/giu;

/** In reading order; a file that two texts name is there twice. */
export const namedFiles = ({ entries }: Campaign): NamedFile[] =>
  entries.flatMap(({ record, block }) => {
    const address = 'address' in record ? (record.address?.text ?? '') : '';
    const time = 'time' in record ? timeText(record.time?.iso) : missing;
    const texts = [
      ...record.notes.map(({ text }) => text),
      ...(record.kind === 'note' ? [record.text.text] : []),
      ...(record.kind === 'sweep' && record.remark !== undefined ? [record.remark] : []),
      ...(record.kind === 'replace' && record.reason !== undefined ? [record.reason] : []),
    ];
    return texts.flatMap((text) =>
      (text.match(fileName) ?? []).map((name) => ({ name, from: block.file, address, time, text })),
    );
  });

/** The pictures that texts on a string name; with '' those that speak of none. */
export function picturesPart(context: ReportContext, string: string): Block[] {
  const { evaluation, pictures, words, local } = context;
  const shown = namedFiles(evaluation.campaign)
    .filter((file) => stringOf(file.address) === string)
    .flatMap((file): ShownPicture[] => {
      const found = pictures.get(pictureKey(file));
      if (found?.state !== 'shown') return [];
      const about = [file.address, local.time(file.time)].filter((part) => part !== '' && part !== missing);
      return [{ picture: found.picture, name: file.name, caption: [...about, file.text].join(', ') }];
    });
  if (shown.length === 0) return [];
  return [
    { kind: 'heading', level: 3, text: words.pictures.heading },
    { kind: 'pictures', pictures: shown },
  ];
}

export function namedFilesPart(context: ReportContext): Block[] {
  const { evaluation, pictures, words, local } = context;
  const files = namedFiles(evaluation.campaign);
  if (files.length === 0) return [];
  const state = (file: NamedFile): string => {
    const found = pictures.get(pictureKey(file));
    return found === undefined ? missing : words.pictures.states[found.state];
  };
  return [
    { kind: 'heading', level: 2, text: words.headings.filesNamed },
    {
      kind: 'table',
      columns: [
        { title: words.headings.filesNamed, align: 'left' },
        { title: words.columns.device, align: 'left', whole: true },
        { title: words.columns.time, align: 'left', whole: true },
        { title: words.note, align: 'left' },
        { title: words.pictures.inReport, align: 'left', whole: true },
      ],
      rows: files.map((file) => [file.name, file.address, local.time(file.time), file.text, state(file)]),
    },
    ...picturesPart(context, ''),
  ];
}
