/** The part of pdfkit and svg-to-pdfkit that is used here; their published types need those of Node, which the core does without. */
declare module 'pdfkit' {
  interface StructureElement {
    add(child: StructureElement | (() => void)): StructureElement;
    end(): void;
  }

  interface OpenedImage {
    readonly width: number;
    readonly height: number;
    /** As in EXIF; above 4 it stands on its side. */
    readonly orientation?: number;
    embed(document: PDFDocument): void;
  }

  interface DocumentOptions {
    readonly size: 'A4' | 'LETTER';
    readonly margin: number;
    readonly font: null;
    readonly autoFirstPage: boolean;
    readonly tagged: boolean;
    readonly lang: string;
    readonly displayTitle: boolean;
    readonly pdfVersion: '1.7';
    readonly info: {
      readonly Title: string;
      readonly Author: string;
      readonly Subject: string;
      readonly Creator: string;
      readonly CreationDate?: Date;
    };
  }

  export default class PDFDocument {
    constructor(options: DocumentOptions | Pick<DocumentOptions, 'font'>);
    readonly outline: { addItem(title: string): unknown };
    /** Of the font in use; by fontkit. */
    readonly _font: { readonly font: { hasGlyphForCodePoint(codePoint: number): boolean } };
    on(event: 'data', listener: (chunk: Uint8Array) => void): this;
    on(event: 'end', listener: () => void): this;
    on(event: 'error', listener: (error: Error) => void): this;
    addPage(): this;
    end(): void;
    registerFont(name: string, bytes: Uint8Array): this;
    font(name: string): this;
    fontSize(size: number): this;
    fillColor(colour: string): this;
    strokeColor(colour: string): this;
    lineWidth(width: number): this;
    moveTo(x: number, y: number): this;
    lineTo(x: number, y: number): this;
    rect(x: number, y: number, width: number, height: number): this;
    stroke(): this;
    fill(): this;
    text(text: string, x: number, y: number, options: { readonly lineBreak: false }): this;
    widthOfString(text: string): number;
    /** Throws where the bytes are no picture that can be shown. */
    openImage(bytes: Uint8Array): OpenedImage;
    image(
      image: OpenedImage,
      x: number,
      y: number,
      options: { readonly width: number; readonly height: number },
    ): this;
    goTo(x: number, y: number, width: number, height: number, name: string): this;
    addNamedDestination(name: string, type: 'XYZ', left: number, top: number, zoom: null): void;
    struct(
      type: string,
      options: { readonly alt?: string; readonly lang?: string },
      child?: () => void,
    ): StructureElement;
    addStructure(element: StructureElement): this;
    markContent(tag: 'Artifact', options: { readonly type: 'Pagination' | 'Layout' }): this;
    endMarkedContent(): this;
  }
}

declare module 'svg-to-pdfkit' {
  import type PDFDocument from 'pdfkit';

  export default function svgToPdf(
    document: PDFDocument,
    svg: string,
    x: number,
    y: number,
    options: {
      readonly width: number;
      readonly height: number;
      readonly preserveAspectRatio: string;
      readonly fontCallback: (family: string, bold: boolean) => string;
    },
  ): void;
}

/** The bytes of a font, put into the bundle by the build. */
declare module '*.ttf' {
  const bytes: Uint8Array;
  export default bytes;
}
