/**
 * Of the rules by which numbers and verdicts follow from a campaign. Counts up with every change of the program that changes a
 * committed result of unchanged files; CHANGELOG.md says what changed.
 */
export const rulesVersion = 2;
