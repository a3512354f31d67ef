/**
 * The part of papaparse that is used here. Its published types pull in those of Node, which the core must not see, so
 * the file is imported under its full path and described here.
 */
declare module 'papaparse/papaparse.js' {
  interface ParseOptions {
    readonly delimiter: string;
    readonly newline: '\n';
    readonly fastMode: boolean;
  }
  const papa: {
    /** Rows of fields, blank lines included; with `fastMode` quotes are ordinary characters. */
    parse(text: string, options: ParseOptions): { readonly data: string[][] };
    unparse(
      table: {
        readonly fields: readonly string[];
        readonly data: readonly (readonly (string | number | boolean)[])[];
      },
      options: { readonly newline: '\n' },
    ): string;
  };
  export default papa;
}
