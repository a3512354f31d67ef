/** HTML that escapes by default: what a template puts in is text, unless it was made by a template itself. */

export interface Html {
  readonly html: string;
}

type Part = string | number | Html | undefined | readonly Part[];

const entities: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** For text and for attributes in quotes. What HTML forbids or turns the order of letters becomes a visible mark. */
export function escapeHtml(text: string): string {
  return text
    .replace(/[&<>"']/g, (character) => entities[character]!)
    .replace(/[^\P{Cc}\t\n\r]|[\u202a-\u202e\u2066-\u2069]/gu, '\ufffd');
}

/** HTML of our own making, such as a drawn chart. */
export function trusted(html: string): Html {
  return { html };
}

/** html`<td>${text}</td>`: strings are escaped, templates are nested, lists are joined, undefined is nothing. */
export function html(fixed: TemplateStringsArray, ...parts: readonly Part[]): Html {
  return { html: fixed.map((text, index) => text + rendered(parts[index])).join('') };
}

function rendered(part: Part): string {
  if (part === undefined) return '';
  if (typeof part === 'string') return escapeHtml(part);
  if (typeof part === 'number') return String(part);
  if (Array.isArray(part)) return part.map(rendered).join('');
  return (part as Html).html;
}
