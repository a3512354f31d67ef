/**
 * The sheets of a PDF: where the next thing stands, and how it is drawn. In the first pass nothing is drawn and pages are only
 * counted, so that every page can say of how many it is one.
 */
import type PDFDocument from 'pdfkit';
import type { OpenedImage, StructureElement } from 'pdfkit';
import svgToPdf from 'svg-to-pdfkit';
import type { ReportDocument } from '../document.js';
import { ink, soft, rule, tones } from './look.js';
import type { Measure, Weight, WrappedLine } from './wrap.js';

export interface Fonts {
  /** TrueType. */
  readonly text: Uint8Array;
  readonly bold: Uint8Array;
}

const sizes = { A4: [595.28, 841.89], Letter: [612, 792] } as const;
const margins = { left: 42, right: 42, top: 42, bottom: 54 } as const;
/** Between the footer and the edge of the paper. */
const footerBase = 30;

export class Sheet {
  readonly width: number;
  readonly #height: number;
  readonly #document: PDFDocument;
  readonly #report: ReportDocument;
  readonly #tagged: boolean;
  readonly #root: StructureElement | undefined;
  readonly #widths = new Map<string, number>();
  #open: StructureElement[] = [];
  #drawing = false;
  #pages = 0;
  #ofPages = 0;
  y = 0;

  constructor(document: PDFDocument, report: ReportDocument, tagged: boolean) {
    const [width, height] = sizes[report.paper];
    this.width = width - margins.left - margins.right;
    this.#height = height;
    this.#document = document;
    this.#report = report;
    this.#tagged = tagged;
    if (tagged) {
      this.#root = document.struct('Document', {});
      document.addStructure(this.#root);
      this.#open = [this.#root];
    }
  }

  /** Begins a pass at the top of the first page. */
  begin(drawing: boolean): void {
    this.#ofPages = this.#pages;
    this.#drawing = drawing;
    this.#pages = 0;
    this.newPage();
  }

  end(): void {
    this.#root?.end();
  }

  get pages(): number {
    return this.#pages;
  }

  get isDrawing(): boolean {
    return this.#drawing;
  }

  /** Of what can be written on one page. */
  get pageHeight(): number {
    return this.#height - margins.top - margins.bottom;
  }

  get left(): number {
    return this.#height - margins.bottom - this.y;
  }

  get atTop(): boolean {
    return this.y === margins.top;
  }

  newPage(): void {
    this.#pages++;
    this.y = margins.top;
    if (!this.#drawing) return;
    this.#document.addPage();
    this.#footer();
  }

  /** Goes to a new page where so much does not fit on this one. @returns whether it did */
  ensure(height: number): boolean {
    if (this.atTop || height <= this.left) return false;
    this.newPage();
    return true;
  }

  readonly measure: Measure = (text, weight, size) => {
    const key = `${weight}${text}`;
    const known = this.#widths.get(key);
    if (known !== undefined) return known * size;
    const width = this.#document.font(weight).fontSize(1000).widthOfString(text) / 1000;
    if (this.#widths.size > 50_000) this.#widths.clear();
    this.#widths.set(key, width);
    return width * size;
  };

  /** Lines one under the other, from `x` right of the left margin and `y` on; does not move on. */
  lines(
    lines: readonly WrappedLine[],
    at: {
      x: number;
      y: number;
      width: number;
      size: number;
      leading: number;
      align?: 'left' | 'right';
      colour?: string;
    },
  ): void {
    if (!this.#drawing) return;
    lines.forEach((line, index) => {
      const start = margins.left + at.x + (at.align === 'right' ? at.width - line.width : 0);
      const y = at.y + index * at.leading;
      let x = start;
      for (const { text, weight, span, width } of line.segments) {
        const colour = span.tone ? tones[span.tone] : span.soft ? soft : (at.colour ?? ink);
        this.#document
          .font(weight)
          .fontSize(at.size)
          .fillColor(colour)
          .text(text, x, y, { lineBreak: false });
        if (span.link !== undefined) this.#document.goTo(x, y, width, at.size * 1.2, span.link);
        x += width;
      }
    });
  }

  rule(x: number, y: number, width: number, weight = 0.4, colour: string = rule): void {
    this.#artifact(() =>
      this.#document
        .lineWidth(weight)
        .strokeColor(colour)
        .moveTo(margins.left + x, y)
        .lineTo(margins.left + x + width, y)
        .stroke(),
    );
  }

  frame(x: number, y: number, width: number, height: number, colour: string): void {
    this.#artifact(() => {
      this.#document
        .lineWidth(0.6)
        .strokeColor(colour)
        .rect(margins.left + x, y, width, height)
        .stroke();
      this.#document
        .fillColor(colour)
        .rect(margins.left + x, y, 3, height)
        .fill();
    });
  }

  chart(svg: string, x: number, y: number, width: number, height: number): void {
    if (!this.#drawing) return;
    svgToPdf(this.#document, withoutEmptyDashes(svg), margins.left + x, y, {
      width,
      height,
      preserveAspectRatio: 'xMinYMin meet',
      fontCallback: (_family, bold): Weight => (bold ? 'bold' : 'text'),
    });
  }

  picture(image: OpenedImage, x: number, y: number, width: number, height: number): void {
    if (this.#drawing) this.#document.image(image, margins.left + x, y, { width, height });
  }

  /** A place that links and the outline lead to. */
  destination(title: string, anchor: string | undefined): void {
    if (!this.#drawing) return;
    if (anchor !== undefined) this.#document.addNamedDestination(anchor, 'XYZ', margins.left, this.y, null);
    this.#document.outline.addItem(title);
  }

  /** What a reader that speaks calls the thing: `H2`, `P`, `Figure`. */
  leaf(
    type: string,
    draw: () => void,
    options: { readonly alt?: string; readonly lang?: string } = {},
  ): void {
    const parent = this.#open.at(-1);
    if (!this.#drawing || !this.#tagged || !parent) return draw();
    const element = this.#document.struct(type, options, draw);
    parent.add(element);
    element.end();
  }

  /** The same for what holds others: `Table`, `TR`, `L`. */
  group(type: string, draw: () => void): void {
    const parent = this.#open.at(-1);
    if (!this.#drawing || !this.#tagged || !parent) return draw();
    const element = this.#document.struct(type, {});
    parent.add(element);
    this.#open.push(element);
    draw();
    this.#open.pop();
    element.end();
  }

  #artifact(draw: () => void, type: 'Pagination' | 'Layout' = 'Layout'): void {
    if (!this.#drawing) return;
    if (!this.#tagged) return draw();
    this.#document.markContent('Artifact', { type });
    draw();
    this.#document.endMarkedContent();
  }

  #footer(): void {
    const { kind, title, pageText } = this.#report;
    const size = 7;
    const page = pageText(this.#pages, this.#ofPages);
    const room = this.width - this.measure(page, 'text', size) - 20;
    const y = this.#height - footerBase - size;
    const x = margins.left + this.width - this.measure(page, 'text', size);
    // Measuring changes the font in use, so it comes first.
    const what = this.#shortened(`${title}. ${kind}`, room, size);
    this.#artifact(() => {
      const document = this.#document.font('text').fontSize(size).fillColor(soft);
      document.text(what, margins.left, y, { lineBreak: false });
      document.text(page, x, y, { lineBreak: false });
    }, 'Pagination');
  }

  #shortened(text: string, room: number, size: number): string {
    if (this.measure(text, 'text', size) <= room) return text;
    let short = [...text];
    while (short.length > 0 && this.measure(`${short.join('')}…`, 'text', size) > room)
      short = short.slice(0, Math.floor(short.length * 0.95));
    return `${short.join('')}…`;
  }
}

/** `1,0` is no dash, and pdfkit refuses it. */
const withoutEmptyDashes = (svg: string): string => svg.replace(/ stroke-dasharray="\d+(\.\d+)?,0"/g, '');
