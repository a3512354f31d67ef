/** A cause in words: one sentence with its figures, and what would tell it from the others. */
import type { Cause, CauseCode, Figure } from './diagnosis.js';
import type { CommonUnknown, Expectation } from './expectation.js';
import type { Tried } from './hypothesis.js';
import { counted, figure, percent, plain, standardWords, withUncertainty } from './words.js';

export type Sentence = Pick<Cause, 'text' | 'figures' | 'tellApart'>;

const about: Readonly<Record<CauseCode, Cause['about']>> = {
  drift: 'conditions',
  'temperature-wrong': 'conditions',
  'irradiance-wrong': 'conditions',
  'sensor-soiled': 'conditions',
  'module-count-wrong': 'entry',
  'module-type-wrong': 'entry',
  soiling: 'device',
  'partial-shade': 'device',
  'module-low-current': 'device',
  'substring-out': 'device',
  'series-resistance': 'device',
  shunt: 'device',
  degraded: 'device',
};

export function causeOf(code: CauseCode, best: Tried, share: number, e: Expectation): Cause {
  return causeIn(code, share, sentences[code](best, e));
}

export const causeIn = (code: CauseCode, share: number, sentence: Sentence): Cause => ({
  code,
  about: about[code],
  share,
  ...sentence,
});

/** What this string has more than is usual or expected, which is where its findings are counted from too. */
const beyond = ({ values }: Tried, name: CommonUnknown, { priors }: Expectation): number =>
  values[name] - priors[name].mean;

const sentences: Readonly<Record<CauseCode, (best: Tried, e: Expectation) => Sentence>> = {
  drift: ({ values, errors }) => ({
    text: `The irradiance ${values.drift > 0 ? 'rose' : 'fell'} by ${percent(Math.abs(values.drift), errors.drift)} during the sweep and bends the curve.`,
    figures: [figure('change of irradiance', 100 * values.drift, '%', 100 * errors.drift)],
    tellApart:
      'Repeat the sweep under a steady sky with the irradiance read before and after it, or for each point.',
  }),
  'temperature-wrong': (best, e) => {
    const { cellTemperature } = e.entered.conditions;
    const warmer = beyond(best, 'temperature', e);
    const error = best.errors.temperature;
    const usual = e.input.peers?.temperature;
    const others = usual ? `; the other strings had ${usual.value.toFixed(0)} degC in like light` : '';
    return {
      text: `The curve fits cells at ${withUncertainty(cellTemperature + warmer, error, 'degC')}, ${plain(Math.abs(warmer))} K ${warmer > 0 ? 'above' : 'below'} the ${cellTemperature.toFixed(1)} degC given${others}.`,
      figures: [figure('true less given cell temperature', warmer, 'K', error)],
      tellApart:
        'See whether the sensor still lies flat on the module, and repeat the sweep with a second sensor on another module.',
    };
  },
  'irradiance-wrong': (best, e) => {
    const change = Math.expm1(beyond(best, 'current', e));
    const { irradiance } = e.entered.conditions;
    return {
      text: `The current fits ${plain(irradiance * (1 + change))} W/m2, ${percent(Math.abs(change), best.errors.current)} ${change > 0 ? 'more' : 'less'} than the ${plain(irradiance)} W/m2 given.`,
      figures: [figure('true over given irradiance, less 1', 100 * change, '%', 100 * best.errors.current)],
      tellApart:
        'Repeat the sweep with the sensor wiped and in the plane of this string, read at the moment of the sweep; a second sensor settles it.',
    };
  },
  'sensor-soiled': (best, e) => {
    const change = Math.expm1(beyond(best, 'current', e));
    return {
      text: `The current is ${percent(change, best.errors.current)} above what the irradiance given makes: the sensor sees too little light.`,
      figures: [figure('current above expectation', 100 * change, '%', 100 * best.errors.current)],
      tellApart:
        'Wipe the irradiance sensor, see that it lies in the plane of the array and in no shadow, and repeat one sweep.',
    };
  },
  'module-count-wrong': ({ hypothesis }, e) => {
    const modules = Number(hypothesis.tag!.modules);
    return {
      text: `The voltage is that of ${counted(modules, 'module')}; ${e.entered.modules} are entered.`,
      figures: [figure('modules by voltage', modules, '')],
      tellApart:
        modules < e.entered.modules
          ? 'Count the modules of the string on the drawing and on the roof. If the count is right, as many modules are out of the current path: measure Voc of the string with a meter, then of its halves.'
          : 'Count the modules of the string on the drawing and on the roof, and measure Voc of the string with a meter.',
    };
  },
  'module-type-wrong': ({ hypothesis }, e) => ({
    text: `Module type ${String(hypothesis.tag!.type)} fits the curve; ${e.input.target.module!.name.text} is entered.`,
    figures: [],
    tellApart: 'Read the labels behind some modules of the string.',
  }),
  soiling: (best, e) => {
    const loss = -Math.expm1(beyond(best, 'current', e));
    const error = best.errors.current;
    return {
      text: `The current is ${percent(loss, error)} below what is ${standardWords(e)} throughout, with the shape of a sound curve, as under even soiling.`,
      figures: [figure('loss of current', 100 * loss, '%', 100 * error)],
      tellApart:
        'Look at the glass; clean the string and repeat the sweep. If nothing changes, doubt the irradiance sensor.',
    };
  },
  'partial-shade': (best, e) => {
    const groups = weakGroups(best);
    const words = groups.map(
      ({ count, share }) =>
        `${count.value < 1.5 ? 'one substring gets' : `about ${Math.round(count.value)} substrings get`} ${percent(share.value, share.error)}`,
    );
    return {
      text: `${capital(words.join(' and '))} of the light of the others: their bypass diodes conduct, as under partial shade${assumption(e)}.`,
      figures: groupFigures(groups),
      tellApart:
        'Look for shade, droppings, leaves and cracked cells; repeat the sweep at another hour: a shadow moves, a damaged cell does not. An infrared look under load shows the warm cell.',
    };
  },
  'module-low-current': (best, e) => {
    const groups = weakGroups(best);
    const [{ share }] = groups as [WeakFigures];
    return {
      text: `One module carries only ${percent(share.value, share.error)} of the current of the others${assumption(e)}.`,
      figures: groupFigures(groups),
      tellApart:
        'Look for one soiled, shaded or aged module; an infrared look under load finds it, else sweep the halves of the string.',
    };
  },
  'substring-out': ({ hypothesis }, e) => {
    const out = Number(hypothesis.tag!.out);
    const all = e.entered.modules * e.entered.substrings;
    return {
      text: `The voltage of ${counted(out, 'substring')} of ${all} is missing over the whole curve: out of the current path, by a shorted bypass diode or an open connection${assumption(e)}.${wholeModules(out, e)}`,
      figures: [figure('substrings out', out, '')],
      tellApart:
        'Measure Voc of the string with a meter and count its modules; a second temperature sensor tells a warm string from a missing substring. An infrared look under load shows the substring; else sweep the halves.',
    };
  },
  'series-resistance': (best, e) => {
    const more = beyond(best, 'resistance', e);
    const error = best.errors.resistance;
    return {
      text: `${withUncertainty(more, error, 'ohm')} more series resistance than ${standardWords(e)}: a poor connector, terminal or splice, or a cable longer than entered.`,
      figures: [figure('added series resistance', more, 'ohm', error)],
      tellApart:
        'Repeat the sweep with the clamps set anew; then look at connectors and terminals with an infrared camera under load. Sweeping the halves tells where it sits.',
    };
  },
  shunt: (best, e) => {
    const of = best.own.find(({ name }) => name === 'shunt');
    const count = best.own.find(({ name }) => name === 'shunted modules');
    if (of) {
      const { value, error } = of;
      const modules = Math.max(1, Math.round(count?.value ?? 1));
      const ohm = 1 / value;
      return {
        text: `${count ? 'About ' : ''}${counted(modules, 'module')} of the string ${modules === 1 ? 'has' : 'have'} a shunt of about ${plain(ohm)} ohm each, which lets current pass the cells.`,
        figures: [figure('shunt conductance of a module', 1000 * value, 'mS', 1000 * error)],
        tellApart: shuntLook,
      };
    }
    const conductance = beyond(best, 'conductance', e);
    const siemens = conductance * e.entered.modules;
    return {
      text: `The horizontal leg falls by ${withUncertainty(1000 * conductance, 1000 * best.errors.conductance, 'mS')} more than ${standardWords(e)}, as if each module had a shunt of ${plain(1 / siemens)} ohm.`,
      figures: [figure('added shunt conductance', 1000 * conductance, 'mS', 1000 * best.errors.conductance)],
      tellApart: shuntLook,
    };
  },
  degraded: (best, e) => {
    const { errors } = best;
    const [change, voltage, resistance] = [
      Math.expm1(beyond(best, 'current', e)),
      beyond(best, 'voltage', e),
      beyond(best, 'resistance', e),
    ];
    return {
      text: `Several things are a little worse than ${standardWords(e)}: current by ${percent(-change)}, voltage by ${percent(-voltage)}, series resistance by ${withUncertainty(resistance, errors.resistance, 'ohm')}.`,
      figures: [
        figure('current', 100 * change, '%', 100 * errors.current),
        figure('voltage', 100 * voltage, '%', 100 * errors.voltage),
        figure('series resistance', resistance, 'ohm', errors.resistance),
      ],
      tellApart:
        'Compare with the other strings and with earlier campaigns; sweep single modules of the string.',
    };
  },
};

const shuntLook =
  'Repeat the sweep at another irradiance: a shunt keeps its conductance, a drift does not. Test the insulation, and sweep the halves of the string.';

export interface WeakFigures {
  readonly count: { readonly value: number; readonly error?: number };
  readonly share: { readonly value: number; readonly error: number };
}

/** Groups of substrings short of light, as fitted; counts that were taken as whole stay so. */
export function weakGroups({ hypothesis, own }: Tried): WeakFigures[] {
  const shares = own.filter(({ name }) => name === 'share');
  const counts = own.filter(({ name }) => name === 'count');
  const whole = (hypothesis.own ?? []).filter(({ name }) => name === 'count');
  return shares.map((share, k): WeakFigures => {
    const count = counts[k]!;
    const mean = whole[k]!.mean;
    return { share, count: mean > 0 ? { value: mean } : count };
  });
}

function groupFigures(groups: readonly WeakFigures[]): Figure[] {
  return groups.flatMap(({ count, share }) => [
    figure('substrings short of light', count.value, '', count.error),
    figure('share of the light', 100 * share.value, '%', 100 * share.error),
  ]);
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** A lost module and one that was never there read alike. */
function wholeModules(out: number, { entered: { substrings, modules } }: Expectation): string {
  const missing = out / substrings;
  if (modules < 2 || !Number.isInteger(missing)) return '';
  return ` That is as much as ${counted(missing, 'module')} of the ${modules} that are entered: the string may have fewer.`;
}

const assumption = ({ substringsAssumed, entered }: Expectation): string =>
  substringsAssumed ? ` (${entered.substrings} substrings a module assumed; the nameplate does not say)` : '';
