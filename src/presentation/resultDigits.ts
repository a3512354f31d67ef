/** Significant digits of every number in a written result. */
export const resultDigits = 7;
