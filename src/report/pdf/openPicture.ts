/** Photographs for a PDF. */
import PDFDocument, { type OpenedImage } from 'pdfkit';
import type { Picture } from '../pictures.js';

/** Width and height as it is to be seen, which for a camera held upright is not as it is stored. */
export interface OpenedPicture {
  readonly image: OpenedImage;
  readonly width: number;
  readonly height: number;
}

/** Undefined for what begins as a picture and is none that can be shown. */
export type OpenPicture = (picture: Picture) => OpenedPicture | undefined;

/** Opens each picture once for a document, however often it is drawn. */
export function pictureOpener(document: PDFDocument): OpenPicture {
  const opened = new Map<Picture, OpenedPicture | undefined>();
  return (picture) => {
    if (!opened.has(picture)) opened.set(picture, open(document, picture));
    return opened.get(picture);
  };
}

function open(document: PDFDocument, { bytes }: Picture): OpenedPicture | undefined {
  try {
    // A picture that breaks off half-way would leave the document without its end: it is tried on another one.
    const trial = new PDFDocument({ font: null });
    trial.openImage(bytes).embed(trial);
    const image = document.openImage(bytes);
    const { width, height, orientation = 1 } = image;
    if (!(width > 0 && height > 0)) return undefined;
    return orientation > 4 ? { image, width: height, height: width } : { image, width, height };
  } catch {
    return undefined;
  }
}
