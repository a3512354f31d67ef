/** White space within a line: Unicode white space, of which files pasted from elsewhere hold several kinds. */
export function isBlank(code: number): boolean {
  if (code < 0x80) return code === 0x20 || (code >= 0x09 && code <= 0x0d);
  return (
    code === 0xa0 ||
    code === 0x1680 ||
    (code >= 0x2000 && code <= 0x200a) ||
    code === 0x2028 ||
    code === 0x2029 ||
    code === 0x202f ||
    code === 0x205f ||
    code === 0x3000 ||
    code === 0xfeff
  );
}

/** Characters that no text needs and that can hide or reorder what a reader sees (Unicode TR36): controls, bidi overrides. */
export function isStray(code: number): boolean {
  if (code < 0x80) return (code < 0x20 && !isBlank(code)) || code === 0x7f;
  return (
    (code >= 0x80 && code <= 0x9f) || (code >= 0x202a && code <= 0x202e) || (code >= 0x2066 && code <= 0x2069)
  );
}

export function isLineEnd(code: number): boolean {
  return code === 0x0a || code === 0x0d;
}

/** `U+202E`, the usual way to name a character that does not print. */
export function codePointName(code: number): string {
  return `U+${code.toString(16).toUpperCase().padStart(4, '0')}`;
}
