import { filesOf } from '../campaign/campaignFile.js';
import type { Sources } from '../evaluation/evaluation.js';
import { isSameContent } from '../evaluation/fileStore.js';

/** What a campaign is computed from, with its files called by names that they have in both campaigns. */
export interface NamedSources {
  readonly sources: Sources | undefined;
  readonly nameOf: (file: string) => string;
}

/** Texts and tables are the same, byte for byte: then the results are too, and nothing needs to be computed. */
export function haveSameSources(before: NamedSources, after: NamedSources): boolean {
  const [a, b] = [before, after].map(({ sources, nameOf }) => {
    const texts = sources ? filesOf(sources.root) : [];
    return {
      texts: new Map(texts.map(({ file, document }) => [nameOf(file), document.text])),
      tables: new Map([...(sources?.tables ?? [])].map(([file, content]) => [nameOf(file), content])),
    };
  });
  if (!before.sources || !after.sources || !a || !b) return false;
  return (
    a.texts.size === b.texts.size &&
    a.tables.size === b.tables.size &&
    [...a.texts].every(([name, text]) => b.texts.get(name) === text) &&
    [...a.tables].every(([name, content]) => {
      const other = b.tables.get(name);
      return other !== undefined && isSameContent(content, other);
    })
  );
}
