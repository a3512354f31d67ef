/**
 * Numbers, units and dates as the language of the report writes them. Digits are never changed: every output shows the same ones.
 * Only for texts that hold values; a name such as `1.03` must not come here.
 */
import { missing } from '../presentation/formatNumber.js';
import type { ReportChart } from './document.js';
import type { Words } from './words/words.js';

export interface Localiser {
  /** `(812.4 ± 1.2) W/m2` -> `(812,4 ± 1,2) W/m²`. */
  readonly value: (text: string) => string;
  /** `-5 % ..` -> `≥ -5 %`. */
  readonly limit: (text: string) => string;
  /** `2026-05-14 11:42` -> `14.05.2026 11:42`. */
  readonly time: (text: string) => string;
  readonly chart: (chart: ReportChart) => ReportChart;
}

const unitSigns: readonly (readonly [RegExp, string])[] = [
  [/\bW\/m2\b/g, 'W/m²'],
  [/\bmm2\b/g, 'mm²'],
  [/\bdegC\b/g, '°C'],
  [/ ?\bdeg\b/g, '°'],
  [/\b([kMG]?)ohm\b/g, '$1Ω'],
];

/** Signs instead of the letters of the notation; also for sentences of the core. */
export const withUnitSigns = (text: string): string =>
  // What stands in backticks is notation, to be written as it is.
  text
    .split(/(`[^`]*`)/)
    .map((part) =>
      part.startsWith('`')
        ? part
        : unitSigns.reduce((changed, [letters, sign]) => changed.replace(letters, sign), part),
    )
    .join('');

export function localiser(words: Words): Localiser {
  const { decimal } = words.number;
  const value = (text: string): string => {
    const withSigns = withUnitSigns(text);
    return decimal === '.' ? withSigns : withSigns.replace(/(\d)\.(\d)/g, `$1${decimal}$2`);
  };
  return {
    value,
    limit: (text) => value(limitSigns(text)),
    time: (text) =>
      text.replace(/(\d{4})-(\d{2})-(\d{2})/g, (_, year: string, month: string, day: string) =>
        words.date(year, month, day),
      ),
    chart: ({ key, spec }) => ({ key, spec: localSpec(spec, words) }),
  };
}

function limitSigns(text: string): string {
  if (text === missing) return text;
  const [least, most] = text.split('..').map((end) => end.trim());
  if (most === undefined) return text;
  if (least === '') return `≤ ${most}`;
  return most === '' ? `≥ ${least!}` : `${least!} … ${most}`;
}

/** The specification of the panel with its words exchanged wherever they stand alone, in scales, filters and rows alike. */
function localSpec(spec: ReportChart['spec'], words: Words): ReportChart['spec'] {
  const translated = exchanged(spec, words.chart) as ReportChart['spec'];
  const locale = {
    number: { decimal: words.number.decimal, thousands: '', grouping: [3], currency: ['', ''] as const },
  };
  const { config } = translated;
  // Words of other languages are longer.
  const legend = { ...config?.legend, labelLimit: 0 };
  return { ...translated, config: { ...config, legend, locale } } as ReportChart['spec'];
}

function exchanged(part: unknown, words: Readonly<Record<string, string>>): unknown {
  if (typeof part === 'string') return Object.hasOwn(words, part) ? words[part] : part;
  if (Array.isArray(part)) return part.map((each) => exchanged(each, words));
  if (typeof part !== 'object' || part === null) return part;
  return Object.fromEntries(Object.entries(part).map(([key, each]) => [key, exchanged(each, words)]));
}
