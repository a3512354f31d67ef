/** Takes the place of the decompressor of WOFF2 fonts in the bundles; the fonts of a report are plain TrueType. */
export default function decompress(): never {
  throw new Error('Fonts packed as WOFF2 are not supported.');
}
