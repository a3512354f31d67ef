/** What a report is asked for. */

/**
 * `full`: everything, for the file. `summary`: two pages for the client. `faults`: what is to be repaired and where, for the crew
 * that does it.
 */
export const reportContents = ['full', 'summary', 'faults'] as const;
export type ReportContent = (typeof reportContents)[number];

export const languages = ['en', 'de', 'es', 'it', 'fr'] as const;
export type Language = (typeof languages)[number];

export const papers = ['A4', 'Letter'] as const;
export type Paper = (typeof papers)[number];

export const reportFormats = ['html', 'pdf', 'markdown', 'text'] as const;
export type ReportFormat = (typeof reportFormats)[number];

export interface ReportOptions {
  readonly content: ReportContent;
  /** Only this string; the content is then `full`. */
  readonly string?: string;
  readonly language: Language;
  readonly paper: Paper;
  /** How file names are shown. */
  readonly display: (file: string) => string;
  /** Of the program. */
  readonly version: string;
}

export const extensionOf: Readonly<Record<ReportFormat, string>> = {
  html: '.html',
  pdf: '.pdf',
  markdown: '.md',
  text: '.txt',
};
