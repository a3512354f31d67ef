/** Photographs and other files that notes and remarks name, so that nobody has to look for them in the text. */
import { missing } from '../presentation/formatNumber.js';
import { timeText } from '../presentation/sweepTexts.js';
import type { ReportContext } from './context.js';
import type { Block } from './document.js';

const fileName = /[\w./\\-]*[\w-]\.(?:jpe?g|png|gif|webp|heic|tiff?|pdf|mp4|mov|csv|xlsx?|docx?|zip)\b/gi;

export function namedFilesPart({ evaluation, words, local }: ReportContext): Block[] {
  const rows = evaluation.campaign.entries.flatMap(({ record }) => {
    const address = 'address' in record ? (record.address?.text ?? '') : '';
    const time = 'time' in record ? timeText(record.time?.iso) : missing;
    const texts = [
      ...record.notes.map(({ text }) => text),
      ...(record.kind === 'note' ? [record.text.text] : []),
      ...(record.kind === 'sweep' && record.remark !== undefined ? [record.remark] : []),
      ...(record.kind === 'replace' && record.reason !== undefined ? [record.reason] : []),
    ];
    return texts.flatMap((text) =>
      (text.match(fileName) ?? []).map((name) => [name, address, local.time(time), text]),
    );
  });
  if (rows.length === 0) return [];
  return [
    { kind: 'heading', level: 2, text: words.headings.filesNamed },
    {
      kind: 'table',
      columns: [
        { title: words.headings.filesNamed, align: 'left' },
        { title: words.columns.device, align: 'left', whole: true },
        { title: words.columns.time, align: 'left', whole: true },
        { title: words.note, align: 'left' },
      ],
      rows,
    },
  ];
}
