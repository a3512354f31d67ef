/** Reads a PDF back with a reader of its own. */
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';

export interface PageText {
  readonly width: number;
  readonly height: number;
  readonly text: string;
  readonly items: readonly {
    readonly text: string;
    readonly left: number;
    readonly right: number;
    readonly base: number;
  }[];
}

export async function readPdf(bytes: Uint8Array): Promise<{
  readonly pages: readonly PageText[];
  readonly title: unknown;
  readonly language: unknown;
  readonly outline: readonly string[];
  readonly tagged: boolean;
}> {
  const task = getDocument({ data: bytes.slice(), useSystemFonts: false, verbosity: 0 });
  const document = await task.promise;
  const pages: PageText[] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number);
    const { width, height } = page.getViewport({ scale: 1 });
    const { items } = await page.getTextContent();
    const texts = items.flatMap((item) => ('str' in item && item.str.trim() !== '' ? [item] : []));
    pages.push({
      width,
      height,
      text: texts.map(({ str }) => str).join('\n'),
      items: texts.map(({ str, transform, width: own }) => {
        const [a, b, , , x, y] = transform as [number, number, number, number, number, number];
        // Axis titles stand upright: their width runs up the page.
        return { text: str, left: x, right: Math.abs(b) > Math.abs(a) ? x : x + own, base: y };
      }),
    });
    page.cleanup();
  }
  const { info } = (await document.getMetadata()) as { info: { Title?: unknown; Language?: unknown } };
  const marks = (await document.getMarkInfo()) as { Marked?: boolean } | null;
  const outline = ((await document.getOutline()) as { title: string }[] | null) ?? [];
  await task.destroy();
  return {
    pages,
    title: info.Title,
    language: info.Language,
    outline: outline.map(({ title }) => title),
    tagged: marks?.Marked === true,
  };
}
