import { z } from 'zod';

/** The settings of the extension that mean something here; a value that is none of the allowed counts as not given. */
const settingsSchema = z.object({
  /** Milliseconds after the last change before the campaign is computed. */
  delay: z.number().min(0).max(5000).catch(120),
  /** Failed sweeps in the list of problems. */
  verdictsAsProblems: z.enum(['none', 'information', 'warning']).catch('none'),
  /** Marks names that nothing uses. */
  fadeUnusedNames: z.boolean().catch(true),
  /** Verdict and deviation behind the first line of each sweep. */
  inlayVerdicts: z.boolean().catch(true),
});

export type Settings = z.infer<typeof settingsSchema>;

export function readSettings(given: unknown): Settings {
  return settingsSchema.parse(typeof given === 'object' && given !== null ? given : {});
}

/** Clients send the settings as they are, or below the name of the language. */
export function sectionOf(given: unknown): unknown {
  return typeof given === 'object' && given !== null && 'sweepbook' in given ? given.sweepbook : given;
}
