/** A report as PDF: selectable text in embedded fonts, vector charts, tags for readers that speak, an outline, page numbers. */
import PDFDocument from 'pdfkit';
import {
  plainText,
  spansOf,
  type Block,
  type FigureBlock,
  type HeadingBlock,
  type Line,
  type PicturesBlock,
  type ReportDocument,
} from '../document.js';
import { caution, headingSizes, ink, leadingOf, smallSize, soft, textSize } from './look.js';
import { pictureOpener, type OpenPicture } from './openPicture.js';
import { Sheet, type Fonts } from './sheet.js';
import { drawTable, leastTableHeight } from './tableLayout.js';
import { wrapLine, type WrappedLine } from './wrap.js';

export interface PdfOptions {
  readonly fonts: Fonts;
  /** When the file is written. */
  readonly created: Date;
  /** Called before each block of the second pass; may give others their turn, and ends all by throwing. */
  readonly progress?: (done: number, of: number) => void | Promise<void>;
}

interface Drawings {
  /** Of charts, as SVG, by key. */
  readonly charts: ReadonlyMap<string, string>;
  readonly open: OpenPicture;
}

/** Tags cost about as much again in size and time: a report of more blocks than this has none. */
const mostTagged = 6000;

export async function toPdf(
  report: ReportDocument,
  svgByChart: ReadonlyMap<string, string>,
  { fonts, created, progress }: PdfOptions,
): Promise<Uint8Array> {
  const tagged = report.blocks.length <= mostTagged;
  const document = new PDFDocument({
    size: report.paper === 'A4' ? 'A4' : 'LETTER',
    margin: 0,
    font: null,
    autoFirstPage: false,
    tagged,
    lang: report.language,
    displayTitle: true,
    pdfVersion: '1.7',
    info: {
      Title: report.title,
      Author: report.author,
      Subject: report.kind,
      Creator: 'sweepbook',
      CreationDate: created,
    },
  });
  document.registerFont('text', fonts.text).registerFont('bold', fonts.bold);
  const written = collected(document);
  const shown = onlyKnownCharacters(report, document);
  const sheet = new Sheet(document, shown, tagged);
  const drawings: Drawings = { charts: svgByChart, open: pictureOpener(document) };
  for (const drawing of [false, true]) {
    sheet.begin(drawing);
    drawHead(sheet, shown);
    for (const [index, block] of shown.blocks.entries()) {
      if (drawing) await progress?.(index, shown.blocks.length);
      drawBlock(sheet, block, shown.blocks.slice(index + 1, index + 7), drawings);
    }
    drawText(sheet, shown.colophon, smallSize, soft);
  }
  sheet.end();
  document.end();
  return written;
}

function collected(document: PDFDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Uint8Array[] = [];
    document.on('data', (chunk) => void chunks.push(chunk));
    document.on('error', reject);
    document.on('end', () => {
      const bytes = new Uint8Array(chunks.reduce((sum, { length }) => sum + length, 0));
      let at = 0;
      for (const chunk of chunks) {
        bytes.set(chunk, at);
        at += chunk.length;
      }
      resolve(bytes);
    });
  });
}

/** No texts: charts are drawn already, and their keys must stay what they are. */
const kept: ReadonlySet<string> = new Set(['charts', 'picture']);

/** What the font does not have, and what no paper shows, becomes a visible mark. */
function onlyKnownCharacters(report: ReportDocument, document: PDFDocument): ReportDocument {
  const { font } = document.font('text')._font;
  const known = new Map<string, boolean>();
  const isKnown = (character: string): boolean => {
    let answer = known.get(character);
    if (answer === undefined) {
      answer =
        !/[\p{Cc}\u202a-\u202e\u2066-\u2069]/u.test(character) &&
        font.hasGlyphForCodePoint(character.codePointAt(0)!);
      known.set(character, answer);
    }
    return answer;
  };
  const clean = (text: string): string =>
    // Nearly every text is plain ASCII.
    /^[\x20-\x7e]*$/.test(text)
      ? text
      : [...text.replace(/[\r\n\t]+/g, ' ')].map((each) => (isKnown(each) ? each : '\ufffd')).join('');
  const cleaned = (part: unknown): unknown => {
    if (typeof part === 'string') return clean(part);
    if (Array.isArray(part)) return part.map(cleaned);
    if (typeof part !== 'object' || part === null) return part;
    return Object.fromEntries(
      Object.entries(part).map(([key, each]) => [key, kept.has(key) ? each : cleaned(each)]),
    );
  };
  return { ...(cleaned({ ...report, pageText: undefined }) as ReportDocument), pageText: report.pageText };
}

function drawHead(sheet: Sheet, { kind }: ReportDocument): void {
  drawText(sheet, kind, textSize, soft);
}

function drawBlock(sheet: Sheet, block: Block, following: readonly Block[], drawings: Drawings): void {
  switch (block.kind) {
    case 'heading':
      return drawHeading(sheet, block, following, drawings);
    case 'paragraph':
      drawText(sheet, block.text, block.small ? smallSize : textSize, block.small ? soft : ink);
      sheet.y += 3;
      return;
    case 'list':
      return drawList(sheet, block.items, 0);
    case 'facts':
      return drawFacts(sheet, block.rows);
    case 'counts':
      return drawCounts(sheet, block.items);
    case 'table':
      return drawTable(sheet, block);
    case 'figure':
      return drawFigure(sheet, block, drawings.charts);
    case 'pictures':
      return drawPictures(sheet, block, drawings.open);
    case 'caution':
      return drawCaution(sheet, block.title, block.items);
    case 'signature':
      return drawSignature(sheet, block.lines);
    case 'page break':
      if (!sheet.atTop) sheet.newPage();
      return;
  }
}

const wrapped = (sheet: Sheet, line: Line, size: number, width = sheet.width): WrappedLine[] =>
  wrapLine(line, width, size, sheet.measure);

/** Text over the whole width, line by line over as many pages as it takes. */
function drawText(sheet: Sheet, line: Line, size: number, colour: string, type = 'P'): void {
  const lines = wrapped(sheet, line, size);
  drawLines(sheet, lines, { x: 0, width: sheet.width, size, colour, type, language: languageOf(line) });
}

const languageOf = (line: Line): string | undefined => {
  const [first, ...rest] = spansOf(line);
  return rest.every(({ language }) => language === first?.language) ? first?.language : undefined;
};

function drawLines(
  sheet: Sheet,
  lines: readonly WrappedLine[],
  {
    x,
    width,
    size,
    colour,
    type,
    language,
  }: {
    readonly x: number;
    readonly width: number;
    readonly size: number;
    readonly colour: string;
    readonly type: string;
    readonly language?: string;
  },
): void {
  const leading = leadingOf(size);
  let from = 0;
  while (from < lines.length) {
    sheet.ensure(leading * Math.min(2, lines.length - from));
    const count = Math.max(1, Math.min(lines.length - from, Math.floor(sheet.left / leading)));
    const part = lines.slice(from, from + count);
    sheet.leaf(
      type,
      () => sheet.lines(part, { x, y: sheet.y, width, size, leading, colour }),
      language === undefined ? {} : { lang: language },
    );
    sheet.y += part.length * leading;
    from += count;
  }
}

/** A heading stays with what follows it. */
function drawHeading(
  sheet: Sheet,
  { level, text, anchor }: HeadingBlock,
  following: readonly Block[],
  drawings: Drawings,
): void {
  const size = headingSizes[level];
  const above = sheet.atTop || level === 1 ? 0 : level === 2 ? 12 : 6;
  const lines = wrapped(sheet, boldLine(text), size);
  const height = above + lines.length * leadingOf(size) + 4;
  sheet.ensure(Math.min(height + followingHeight(sheet, following, drawings), 0.9 * sheet.pageHeight));
  if (!sheet.atTop) {
    sheet.y += above;
    if (level === 2) sheet.rule(0, sheet.y - 3, sheet.width, 1, ink);
  }
  if (level === 2) sheet.destination(plainText(text), anchor);
  drawLines(sheet, lines, { x: 0, width: sheet.width, size, colour: ink, type: `H${level}` });
  sheet.y += level === 1 ? 6 : 2;
}

const boldLine = (line: Line): Line =>
  spansOf(line).map((span) => (span.soft ? span : { ...span, strong: true }));

/** Up to the first thing that carries weight: a chart whole, of a table the first rows. */
function followingHeight(sheet: Sheet, blocks: readonly Block[], drawings: Drawings): number {
  let height = 0;
  for (const block of blocks) {
    if (block.kind === 'paragraph' || block.kind === 'heading') {
      const size = block.kind === 'heading' ? headingSizes[block.level] : textSize;
      height += wrapped(sheet, block.text, size).length * leadingOf(size) + 8;
      if (block.kind === 'paragraph' && height > 40) return height;
    } else if (block.kind === 'figure') return height + figureHeight(sheet, block, drawings.charts);
    else if (block.kind === 'pictures') return height + pictureRows(sheet, block, drawings.open)[0]!.height;
    else if (block.kind === 'table') return height + leastTableHeight(sheet, block);
    else if (block.kind === 'signature') return height + block.lines.length * signatureHeight;
    else return height + 30;
  }
  return height;
}

function drawList(sheet: Sheet, items: readonly Line[], x: number): void {
  const indent = x + 9;
  sheet.group('L', () => {
    for (const item of items) {
      const lines = wrapped(sheet, item, textSize, sheet.width - indent - x);
      sheet.ensure(leadingOf(textSize) * Math.min(2, lines.length));
      const dot = wrapped(sheet, '•', textSize);
      sheet.group('LI', () => {
        sheet.leaf('Lbl', () =>
          sheet.lines(dot, {
            x,
            y: sheet.y,
            width: 9,
            size: textSize,
            leading: leadingOf(textSize),
            colour: soft,
          }),
        );
        const at = { x: indent, width: sheet.width - indent - x, size: textSize, colour: ink, type: 'LBody' };
        drawLines(sheet, lines, { ...at, language: languageOf(item) });
      });
      sheet.y += 1.5;
    }
  });
  sheet.y += 3;
}

function drawFacts(sheet: Sheet, rows: readonly (readonly [string, Line])[]): void {
  const widest = Math.max(0, ...rows.map(([name]) => sheet.measure(name, 'text', textSize)));
  const x = Math.min(widest + 14, sheet.width / 3);
  const leading = leadingOf(textSize);
  for (const [name, value] of rows) {
    const names = wrapped(sheet, name, textSize, x - 6);
    const values = wrapped(sheet, value, textSize, sheet.width - x);
    const height = Math.max(names.length, values.length) * leading + 1;
    sheet.ensure(Math.min(height, sheet.pageHeight));
    const { y } = sheet;
    sheet.leaf('P', () => {
      sheet.lines(names, { x: 0, y, width: x, size: textSize, leading, colour: soft });
      sheet.lines(values, { x, y, width: sheet.width - x, size: textSize, leading });
    });
    sheet.y += height;
  }
  sheet.y += 6;
}

function drawCounts(sheet: Sheet, items: readonly { readonly count: number; readonly mark: Line }[]): void {
  const width = Math.min(110, (sheet.width - 4) / Math.max(1, items.length));
  const labels = items.map(({ mark }) => wrapped(sheet, mark, textSize, width - 10));
  const height = 22 + Math.max(...labels.map(({ length }) => length)) * leadingOf(textSize);
  sheet.ensure(height + 8);
  const { y } = sheet;
  items.forEach(({ count }, index) => {
    const x = index * width;
    const number = wrapped(sheet, { text: String(count), strong: true }, 15, width - 10);
    sheet.leaf('P', () => {
      sheet.lines(number, { x, y: y + 2, width, size: 15, leading: leadingOf(15) });
      sheet.lines(labels[index]!, { x, y: y + 22, width, size: textSize, leading: leadingOf(textSize) });
    });
  });
  sheet.y += height + 8;
}

/** From the first tag of an SVG. */
function sizeOfSvg(svg: string): { width: number; height: number } {
  const of = (name: string): number =>
    Number(new RegExp(`^<svg[^>]*\\s${name}="([\\d.]+)"`).exec(svg)?.[1] ?? 100);
  return { width: of('width'), height: of('height') };
}

const figureGap = 12;

function placedCharts(sheet: Sheet, { charts }: FigureBlock, svgByChart: ReadonlyMap<string, string>) {
  const drawn = charts.flatMap(({ key }) => svgByChart.get(key) ?? []);
  const width = (sheet.width - figureGap * (drawn.length - 1)) / Math.max(1, drawn.length);
  const placed = drawn.map((svg, index) => {
    const size = sizeOfSvg(svg);
    const scale = Math.min(width / size.width, (0.7 * sheet.pageHeight) / size.height);
    return { svg, x: index * (width + figureGap), width: size.width * scale, height: size.height * scale };
  });
  return { placed, height: Math.max(0, ...placed.map(({ height }) => height)) };
}

function figureHeight(sheet: Sheet, figure: FigureBlock, svgByChart: ReadonlyMap<string, string>): number {
  const { height } = placedCharts(sheet, figure, svgByChart);
  if (height === 0) return 0;
  const caption = figure.caption === undefined ? [] : wrapped(sheet, figure.caption, smallSize);
  return height + caption.length * leadingOf(smallSize) + 10;
}

function drawFigure(sheet: Sheet, figure: FigureBlock, svgByChart: ReadonlyMap<string, string>): void {
  const { placed, height } = placedCharts(sheet, figure, svgByChart);
  if (height === 0) return;
  sheet.ensure(figureHeight(sheet, figure, svgByChart));
  const { y } = sheet;
  sheet.leaf(
    'Figure',
    () => {
      for (const each of placed) sheet.chart(each.svg, each.x, y, each.width, each.height);
    },
    { alt: figure.description },
  );
  sheet.y += height + 2;
  if (figure.caption !== undefined) drawText(sheet, figure.caption, smallSize, soft);
  sheet.y += 8;
}

const highestPicture = 210;

/** Two side by side; one that cannot be opened has its name and caption alone. */
function pictureRows(sheet: Sheet, { pictures }: PicturesBlock, open: OpenPicture) {
  const width = (sheet.width - figureGap) / 2;
  const placed = pictures.map(({ picture, name, caption }, index) => {
    const image = open(picture);
    const scale = image ? Math.min(width / image.width, highestPicture / image.height) : 0;
    const text = image ? caption : `${name}: ${caption}`;
    return {
      image: image?.image,
      name,
      x: (index % 2) * (width + figureGap),
      width: scale * (image?.width ?? 0),
      height: scale * (image?.height ?? 0),
      caption: wrapped(sheet, text, smallSize, width),
    };
  });
  const rows = [];
  for (let from = 0; from < placed.length; from += 2) {
    const row = placed.slice(from, from + 2);
    const above = Math.max(...row.map(({ height }) => height)) + 3;
    const below = Math.max(...row.map(({ caption }) => caption.length)) * leadingOf(smallSize);
    rows.push({ row, above, height: above + below + 8 });
  }
  return rows;
}

function drawPictures(sheet: Sheet, block: PicturesBlock, open: OpenPicture): void {
  const columnWidth = (sheet.width - figureGap) / 2;
  for (const { row, above, height } of pictureRows(sheet, block, open)) {
    sheet.ensure(height);
    const { y } = sheet;
    for (const each of row) {
      const { image } = each;
      if (image)
        sheet.leaf('Figure', () => sheet.picture(image, each.x, y, each.width, each.height), {
          alt: each.name,
        });
      const at = { x: each.x, y: y + above, width: columnWidth, size: smallSize, colour: soft };
      sheet.leaf('Caption', () => sheet.lines(each.caption, { ...at, leading: leadingOf(smallSize) }));
    }
    sheet.y += height;
  }
}

/** In a frame, and whole where it fits on a page. */
function drawCaution(sheet: Sheet, title: string, items: readonly Line[]): void {
  const inset = 12;
  const size = textSize - 0.5;
  const leading = leadingOf(size);
  const width = sheet.width - 2 * inset;
  const heading = wrapped(sheet, { text: title, strong: true, tone: 'doubtful' }, textSize, width);
  const all = items.map((item) => wrapped(sheet, item, size, width - 9));
  const dot = wrapped(sheet, '•', size);
  const height =
    heading.length * leadingOf(textSize) +
    all.reduce((sum, lines) => sum + lines.length * leading + 1, 0) +
    14;
  sheet.ensure(height);
  const top = sheet.y;
  const fits = height <= sheet.left;
  sheet.y += 6;
  drawLines(sheet, heading, { x: inset, width, size: textSize, colour: caution, type: 'P' });
  all.forEach((lines, index) => {
    sheet.ensure(lines.length * leading);
    const { y } = sheet;
    sheet.leaf('Lbl', () => sheet.lines(dot, { x: inset, y, width: 9, size, leading, colour: soft }));
    const language = languageOf(items[index]!);
    drawLines(sheet, lines, { x: inset + 9, width: width - 9, size, colour: ink, type: 'P', language });
    sheet.y += 1;
  });
  sheet.y += 6;
  if (fits) sheet.frame(0, top, sheet.width, sheet.y - top, caution);
  sheet.y += 8;
}

const signatureHeight = 38;

function drawSignature(
  sheet: Sheet,
  lines: readonly { readonly who: string; readonly fields: readonly string[] }[],
): void {
  const lead = Math.min(
    sheet.width / 4,
    14 + Math.max(0, ...lines.map(({ who }) => sheet.measure(who, 'text', textSize))),
  );
  const rowHeight = signatureHeight;
  sheet.ensure(rowHeight * lines.length);
  for (const { who, fields } of lines) {
    const { y } = sheet;
    const width = (sheet.width - lead - 12 * (fields.length - 1)) / fields.length;
    const whoLines = wrapped(sheet, who, textSize, lead - 6);
    sheet.leaf('P', () => {
      sheet.lines(whoLines, {
        x: 0,
        y: y + 12,
        width: lead,
        size: textSize,
        leading: leadingOf(textSize),
        colour: soft,
      });
      fields.forEach((field, index) => {
        const x = lead + index * (width + 12);
        const at = { x, y: y + 25, width, size: 6.5, leading: 8, colour: soft };
        sheet.lines(wrapped(sheet, field, 6.5, width), at);
      });
    });
    fields.forEach((_, index) => sheet.rule(lead + index * (width + 12), y + 23, width, 0.6, ink));
    sheet.y += rowHeight;
  }
}
