/** Fixes within one line: numbers, units, signs, dates, names. */
import { faultOfName, normalName } from '../../campaign/names.js';
import type { Dimension } from '../../campaign/quantity.js';
import { unitsOf } from '../../campaign/units.js';
import type { ValueForm } from '../../campaign/valueForms.js';
import { readableNumber } from '../readableNumber.js';
import { choiceStop, tabStop } from '../snippetText.js';
import {
  editOnLine,
  freeName,
  markedText,
  removeLines,
  replaceMarked,
  tokenEdit,
  type Fix,
  type Fixer,
  type FixInput,
} from './fix.js';

/** Dimensions that a value of the form may have. */
function dimensionsOf(form: ValueForm | undefined): readonly Dimension[] {
  switch (form?.kind) {
    case 'quantity':
      return form.dimensions;
    case 'limits':
    case 'uncertainty':
    case 'columnOrQuantity':
      return [form.dimension];
    case 'column':
      return form.dimension ? [form.dimension] : [];
    case 'temperature':
    case 'columnOrTemperature':
      return ['temperature'];
    default:
      return [];
  }
}

/** `V` where a coefficient stands: `V/K`; then the usual unit of each dimension; a temperature in K is converted. */
export const wrongUnit: Fixer = (input) => {
  const converted = temperatureFixes(input);
  if (converted.length > 0) return converted;
  const written = markedText(input);
  const dimensions = dimensionsOf(input.property?.form);
  const usual = dimensions.map((dimension) => unitsOf(dimension)[0]!);
  const longer = dimensions.flatMap(unitsOf).filter((unit) => unit.startsWith(`${written}/`));
  const offered = [...new Set([...longer, ...usual])];
  const fixes = offered.map((unit) => replaceMarked(input, unit));
  return fixes.length === 1 ? [{ ...fixes[0]!, isPreferred: true }] : fixes;
};

/** 317.2 K or 111 degF where degC is meant. */
function temperatureFixes(input: FixInput): Fix[] {
  const { line, problem, property } = input;
  if (!dimensionsOf(property?.form).includes('temperature')) return [];
  const unit = markedText(input);
  const before = line.text.slice(0, problem.range.start.character);
  const number = /[+-]?\d+(?:\.\d+)?(?=\s*$)/.exec(before);
  if (!number) return [];
  const value = Number(number[0]);
  const celsius =
    unit === 'K' ? value - 273.15 : /^(deg|°)?F$/.test(unit) ? ((value - 32) * 5) / 9 : undefined;
  if (celsius === undefined) return [];
  const text = `${readableNumber(Math.round(celsius * 100) / 100)} degC`;
  const edit = editOnLine(input, number.index, problem.range.end.character, text);
  return [{ title: `Convert to \`${text}\``, edits: [edit], isPreferred: true }];
}

/** `1'012 W/m2`, and what can be converted. */
export const unknownUnit: Fixer = (input) => {
  const { line, problem } = input;
  const number = /\d{1,3}$/.exec(line.text.slice(0, problem.range.start.character));
  const thousands = /^(['’]\d{3})+(\.\d+)?$/u.exec(markedText(input));
  if (!number || !thousands) return temperatureFixes(input);
  const text = number[0] + thousands[0].replace(/['’]/gu, '');
  const edit = editOnLine(input, number.index, problem.range.end.character, text);
  return [{ title: `Write \`${text}\``, edits: [edit], isPreferred: true }];
};

/** `interval 12`. */
export const missingUnit: Fixer = (input) => {
  if (input.property?.form.kind !== 'months') return [];
  const end = input.line.tokens.at(-1)!.end;
  return ['months', 'years'].map((unit) => ({
    title: `Add \`${unit}\``,
    edits: [editOnLine(input, end, end, ` ${unit}`)],
    isPreferred: unit === 'months',
  }));
};

/** What a property starts with, where it has no value at all. Numbers are left to the user. */
export const missingValue: Fixer = (input) => {
  const { property, line, evaluation } = input;
  if (!property || line.tokens.length !== 1) return [];
  const end = line.tokens[0]!.end;
  return startsOf(property.form, evaluation).map(([shown, text]) => ({
    title: `Write \`${property.name} ${shown}\``,
    edits: [{ ...editOnLine(input, end, line.tokens[0]!.end, ` ${text}`), isSnippet: true }],
  }));
};

type Evaluated = FixInput['evaluation'];

/** Pairs of what is shown and the text with its tab stops. */
export function startsOf(form: ValueForm, evaluation: Evaluated): (readonly [string, string])[] {
  const quantity = (dimension: Dimension, before = '', after = ''): readonly [string, string] => {
    const unit = unitsOf(dimension)[0]!;
    return [`${before}… ${unit}${after}`, `${before}${tabStop(1)} ${unit}${after}`];
  };
  const { campaign } = evaluation;
  switch (form.kind) {
    case 'choice':
      return form.choices.map(({ word }) => [word, word]);
    case 'quantity':
      return form.dimensions.map((dimension) => quantity(dimension));
    case 'limits':
      return [quantity(form.dimension, '', ' ..'), quantity(form.dimension, '.. ')];
    case 'uncertainty':
      return [
        quantity('fraction', '± '),
        ...(form.dimension === 'fraction'
          ? []
          : [quantity(form.dimension === 'temperature' ? 'temperatureDifference' : form.dimension, '± ')]),
      ];
    case 'temperature':
      return [
        quantity('temperature', '', ' cell'),
        quantity('temperature', '', ' module'),
        ['from Voc', 'from Voc'],
      ];
    case 'text':
    case 'path':
    case 'label':
    case 'column':
      return [['"…"', `"${tabStop(1)}"`]];
    case 'modules': {
      const names = [...campaign.modules.keys()];
      return [
        [
          `… x ${names.length === 1 ? names[0]! : '…'}`,
          `${tabStop(1)} x ${choiceStop(2, names.slice(0, 40))}`,
        ],
      ];
    }
    case 'points':
      return [['V, A', 'V, A']];
    case 'reference':
    case 'references':
      return form.to
        .flatMap((kind) => namesOfKind(evaluation, kind).map((name) => [name, name] as const))
        .slice(0, 8);
    default:
      return [];
  }
}

function namesOfKind({ campaign }: Evaluated, kind: string): string[] {
  const { sites, planes, modules, layouts, criteria, instruments } = campaign;
  if (kind === 'tracer' || kind === 'reference')
    return [...instruments].filter(([, { record }]) => record.kind === kind).map(([name]) => name);
  const map = { site: sites, plane: planes, module: modules, layout: layouts, criteria }[kind];
  return [...(map?.keys() ?? [])];
}

export const arrowMissing: Fixer = (input) => {
  const text = markedText(input);
  const end = input.line.tokens.at(-1)!.end;
  if (text === '') {
    const next = input.property?.form.kind === 'textChange' ? `"${tabStop(1)}"` : tabStop(1);
    return [
      { title: 'Add the arrow', edits: [{ ...editOnLine(input, end, end, ` -> ${next}`), isSnippet: true }] },
    ];
  }
  const instead = /^(=>|>|to|,|\/)\s*/.exec(text)?.[0] ?? '';
  return [{ ...replaceMarked(input, `-> ${text.slice(instead.length)}`, 'Put an arrow'), isPreferred: true }];
};

/** The comma goes right behind the word before. */
export const commaMissing: Fixer = (input) => {
  const { line, problem } = input;
  const before = line.tokens.findLast(({ end }) => end <= problem.range.start.character);
  if (markedText(input) === '' || !before) return [];
  return [
    { title: 'Put a comma', edits: [editOnLine(input, before.end, before.end, ',')], isPreferred: true },
  ];
};

export const coverageFactor: Fixer = (input) => ['k=2', 'k=1'].map((text) => replaceMarked(input, text));

export const negativeUncertainty: Fixer = (input) => [
  { ...replaceMarked(input, markedText(input).replace(/^[-\u2212]\s*/, '')), isPreferred: true },
];

export const reversedRange: Fixer = (input) => {
  const [least, most] = markedText(input)
    .split('..')
    .map((part) => part.trim());
  return most ? [{ ...replaceMarked(input, `${most} .. ${least!}`), isPreferred: true }] : [];
};

/** `3 % .. -0 %`, or one end alone. */
export const tolerance: Fixer = (input) => {
  const text = markedText(input);
  const [first = '', second = ''] = text.split('..').map((part) => part.trim());
  if (first && second) return [{ ...replaceMarked(input, `${second} .. ${first}`), isPreferred: true }];
  const one = (first || second).replace(/^[+-]/, '');
  if (one === '') return [];
  const unit = one.replace(/^[\d.]+\s*/, '');
  return [`± ${one}`, `-0 ${unit} .. ${one}`, `-${one} .. 0 ${unit}`].map((each) =>
    replaceMarked(input, each),
  );
};

export const removeLine: Fixer = ({ problem }) => [
  { title: 'Remove the line', edits: [removeLines(problem.file, problem.range.start.line)] },
];

/** `bifaciality 70`, and a latitude south of the equator written with a minus. */
export const outOfRange: Fixer = (input) => {
  const { property, line, problem } = input;
  const text = markedText(input);
  const form = property?.form;
  if (
    form?.kind === 'quantity' &&
    form.bareFraction &&
    /^\d+(\.\d+)?$/.test(text) &&
    Number(text) <= 100 * (form.most ?? 1)
  )
    return [{ ...replaceMarked(input, `${text} %`), isPreferred: true }];
  if (form?.kind !== 'coordinates' || !text.startsWith('-')) return [];
  const side = line.tokens.find(({ start }) => start >= problem.range.end.character);
  const other = { N: 'S', E: 'W', S: 'N', W: 'E' }[side?.text ?? ''];
  if (!side || other === undefined) return [];
  return [
    {
      title: `Write \`${text.slice(1)} ${other}\``,
      edits: [editOnLine(input, problem.range.start.character, side.end, `${text.slice(1)} ${other}`)],
      isPreferred: true,
    },
  ];
};

export const notACount: Fixer = (input) => {
  const whole = /^(\d+)\.0*$/.exec(markedText(input))?.[1];
  return whole === undefined ? [] : [{ ...replaceMarked(input, whole), isPreferred: true }];
};

/** `> -5 %` is `-5 % ..`. */
export const notANumber: Fixer = (input) => {
  const { property, line } = input;
  const rest = line.text.slice(input.problem.range.start.character, line.tokens.at(-1)!.end);
  const [, sign, limit] = /^(>=?|<=?|≥|≤)\s*(.+)$/u.exec(rest) ?? [];
  if (property?.form.kind === 'limits' && limit) {
    const written = />|≥/u.test(sign!) ? `${limit} ..` : `.. ${limit}`;
    const end = line.tokens.at(-1)!.end;
    return [
      {
        title: `Write \`${written}\``,
        edits: [editOnLine(input, input.problem.range.start.character, end, written)],
        isPreferred: true,
      },
    ];
  }
  return [];
};

/** `14.05.2026 9.42` and the like. Where day and month could be exchanged, both are offered. */
export const malformedTime: Fixer = (input) => {
  const { line, problem } = input;
  const from = problem.range.start.character;
  const [date, clock] = line.tokens.filter(({ start, kind }) => start >= from && kind === 'word');
  if (!date) return [];
  const hasClock = clock !== undefined && /^\d{1,2}[:.h]\d{2}/.test(clock.text);
  const end = hasClock ? clock.end : date.end;
  const written = line.text.slice(from, end);
  const texts = datesOf(date.text)
    .map((day) => (hasClock ? `${day} ${clockOf(clock.text)}` : day))
    .filter((text) => text !== written);
  return texts.map((text) => ({
    title: `Write \`${text}\``,
    edits: [editOnLine(input, from, end, text)],
    isPreferred: texts.length === 1,
  }));
};

function datesOf(text: string): string[] {
  const iso = (year: string, month: string, day: string) =>
    `${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`;
  const first = /^(\d{4})[-./](\d{1,2})[-./](\d{1,2})$/.exec(text);
  if (first) return [iso(first[1]!, first[2]!, first[3]!)];
  const [, one, sign, two, year] = /^(\d{1,2})([-./])(\d{1,2})\2(\d{4})$/.exec(text) ?? [];
  if (!one || !two || !year) return [];
  const dayFirst = Number(two) <= 12 ? [iso(year, two, one)] : [];
  const monthFirst = Number(one) <= 12 && sign !== '.' && one !== two ? [iso(year, one, two)] : [];
  return [...dayFirst, ...monthFirst];
}

function clockOf(text: string): string {
  const [, hour, minute, rest = ''] = /^(\d{1,2})[:.h](\d{2})(.*)$/.exec(text) ?? [];
  return hour && minute ? `${hour.padStart(2, '0')}:${minute}${rest}` : text;
}

/** `sweep 1.03 2026-05-14 11:42`, or no time at all. */
export const missingTime: Fixer = (input) => {
  const { line, evaluation } = input;
  const date = line.tokens.find(({ text }) => /^\d{4}-\d{2}/.test(text));
  if (date && !line.tokens.some(({ text }) => text === 'at'))
    return [
      {
        title: 'Put `at` before the time',
        edits: [editOnLine(input, date.start, date.start, 'at ')],
        isPreferred: true,
      },
    ];
  const last = evaluation.campaign.sweeps
    .findLast(({ record }) => record.time)
    ?.record.time?.iso.slice(0, 10);
  const end = line.tokens.at(-1)!.end;
  const at = line.tokens.at(-1)!.text === 'at' ? '' : ' at';
  return [
    {
      title: 'Add the time',
      edits: [{ ...editOnLine(input, end, end, `${at} ${tabStop(1, last)} ${tabStop(2)}`), isSnippet: true }],
    },
  ];
};

/** Degrees without a side; a latitude and a longitude in the other order. */
export const directionMissing: Fixer = (input) => {
  const { line, problem } = input;
  const text = line.text.slice(line.tokens[1]?.start ?? 0, line.tokens.at(-1)!.end);
  const exchanged = /^(\S+\s*[EW])\s*,\s*(\S+\s*[NS])$/.exec(text);
  if (exchanged) {
    const written = `${exchanged[2]!}, ${exchanged[1]!}`;
    return [
      {
        title: `Write \`${written}\``,
        edits: [editOnLine(input, line.tokens[1]!.start, line.tokens.at(-1)!.end, written)],
        isPreferred: true,
      },
    ];
  }
  const number = /^[+-]?\d+(\.\d+)?/.exec(markedText(input))?.[0];
  if (number === undefined) return [];
  const isSecond = line.text.slice(0, problem.range.start.character).includes(',');
  const [plus, minus] = isSecond ? ['E', 'W'] : ['N', 'S'];
  const degrees = number.replace(/^[+-]/, '');
  return (number.startsWith('-') ? [minus] : [plus, minus]).map((side) =>
    replaceMarked(input, `${degrees} ${side!}`),
  );
};

/** `KF108M x 18`, `18 KF108M`. */
export const modulesOfString: Fixer = (input) => {
  const words = input.line.tokens.slice(1);
  const isCount = (text: string): boolean => /^\d{1,5}$/.test(text);
  const count = words.find(({ text }) => isCount(text));
  const name = words.find(({ text }) => !isCount(text) && !/^[x×*]$/u.test(text) && !faultOfName(text));
  if (!count || !name || words.length > 3) return [];
  const written = `${count.text} x ${name.text}`;
  return [
    {
      title: `Write \`${written}\``,
      edits: [editOnLine(input, words[0]!.start, words.at(-1)!.end, written)],
      isPreferred: true,
    },
  ];
};

export const reversedRun: Fixer = (input) => {
  const [first, last] = markedText(input)
    .split('..')
    .map((part) => part.trim());
  if (!first || !last || !input.problem.message.includes('reversed')) return [];
  return [{ ...replaceMarked(input, `${last} .. ${first}`), isPreferred: true }];
};

/** `voltage U`: a header stands in quotes. */
export const columnInQuotes: Fixer = (input) => {
  const word = input.line.tokens[1];
  if (word?.kind !== 'word') return [];
  const text = `"${word.text}"`;
  return [{ title: `Write \`${text}\``, edits: [tokenEdit(input, word, text)], isPreferred: true }];
};

/** `1.03/m11`, `1.03/#11`. */
export const malformedAddress: Fixer = (input) => {
  const [, string, place] = /^([^/]+)\/\D*(\d+(?:-\d+)?)\D*$/.exec(markedText(input)) ?? [];
  return string && place && !faultOfName(string) ? [replaceMarked(input, `${string}/${place}`)] : [];
};

export const malformedName: Fixer = (input) => {
  const sound = normalName(markedText(input))
    .replace(/[^\p{L}\p{N}\p{M}._-]+/gu, '-')
    .replace(/^[^\p{L}\p{N}_]+|-+$/gu, '');
  return faultOfName(sound) ? [] : [replaceMarked(input, sound)];
};

export const anotherName: Fixer = (input) => {
  const name = markedText(input);
  return name.includes('..') ? [] : [replaceMarked(input, freeName(input.evaluation, name))];
};

/** `sweeps "all.csv"`. */
export const fromMissing: Fixer = (input) => {
  const next = input.line.tokens[1];
  if (!next)
    return [
      {
        title: 'Add the table',
        edits: [
          {
            ...editOnLine(
              input,
              input.line.tokens[0]!.end,
              input.line.tokens[0]!.end,
              ` from "${tabStop(1)}"`,
            ),
            isSnippet: true,
          },
        ],
      },
    ];
  const written = next.kind === 'quoted' ? 'from ' : `from "${next.text}"`;
  return [
    {
      title: 'Put `from`',
      edits: [editOnLine(input, next.start, next.kind === 'quoted' ? next.start : next.end, written)],
      isPreferred: true,
    },
  ];
};

/** One of two instruments of a kind, with the comma before it. */
export const secondInstrument: Fixer = (input) => {
  const { line, problem } = input;
  const at = line.tokens.findIndex(({ start }) => start === problem.range.start.character);
  const comma = line.tokens[at - 1];
  if (comma?.kind !== 'comma') return [];
  return [
    {
      title: `Remove \`${markedText(input)}\``,
      edits: [editOnLine(input, line.tokens[at - 2]?.end ?? comma.start, line.tokens[at]!.end, '')],
    },
  ];
};

/** Anything but `cell` or `module` behind the temperature. */
export const temperatureKind: Fixer = (input) => {
  if (input.problem.mends || /^from/.test(markedText(input))) return [];
  return ['cell', 'module'].map((word) => replaceMarked(input, word));
};

export const pinLength: Fixer = (input) => {
  const end = input.line.tokens.at(-1)!.end;
  if (markedText(input) !== '') return [];
  return [
    {
      title: 'Add the pin',
      edits: [{ ...editOnLine(input, end, end, ` pin ${tabStop(1)} mm`), isSnippet: true }],
    },
  ];
};
