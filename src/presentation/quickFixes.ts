/**
 * A mend for every problem that has an obvious one. Some problems carry it from where they are found; for the others the table
 * below says who works it out, or why nobody can. A test holds the table to the problems that there are.
 */
import type { Evaluation } from '../evaluation/evaluation.js';
import type { FileProblem } from '../text/problem.js';
import { fixInput, type Fix, type Fixer, type FixHost } from './fixes/fix.js';
import { fitLayout } from './fixes/layoutFixes.js';
import * as missing from './fixes/missingFixes.js';
import { alphaNegative, cellsOfPath, exchange, negativeSign, plausibleUnit } from './fixes/nameplateFixes.js';
import { addLayout, nameColumn } from './fixes/tableFixes.js';
import * as value from './fixes/valueFixes.js';

export type { Fix, FixEdit, FixHost } from './fixes/fix.js';

/** Problems that bring their mend along where one is obvious. */
export const mendedWhereFound: ReadonlySet<string> = new Set([
  'address/section-reversed',
  'name/quoted',
  'name/unknown',
  'property/repeated',
  'property/unknown',
  'site/unknown-timezone',
  'string/modules',
  'sweep/temperature-kind',
  'syntax/conflict-marker',
  'syntax/indented-block',
  'syntax/merge-conflict',
  'syntax/no-header',
  'syntax/not-indented',
  'syntax/stray-character',
  'syntax/typographic-quote',
  'syntax/unclosed-quote',
  'syntax/unknown-block',
  'time/ambiguous',
  'time/malformed',
  'time/nonexistent',
  'unit/missing',
  'unit/unknown',
  'value/decimal-comma',
  'value/plus-minus-missing',
  'value/quotes-missing',
  'value/range-missing',
  'value/surplus',
  'value/unknown-word',
]);

export const fixers: Readonly<Record<string, Fixer>> = {
  'address/malformed': value.malformedAddress,
  'criteria/ambiguous': missing.chooseCriteria,
  'criteria/missing': missing.missingCriteria,
  'data/missing': missing.missingFile('table'),
  'include/cycle': missing.removeInclude,
  'include/unreadable': missing.missingFile('campaign'),
  'compare/unreadable': missing.missingFile('campaign'),
  'instrument/parts-undeclared': missing.missingParts,
  'layout/column': value.columnInQuotes,
  'module/estimated': missing.missingProperties,
  'module/incomplete': missing.missingProperties,
  'name/malformed': value.malformedName,
  'name/twice': value.anotherName,
  'name/unknown': missing.unknownName,
  'nameplate/alpha-large': plausibleUnit,
  'nameplate/alpha-negative': alphaNegative,
  'nameplate/beta-large': plausibleUnit,
  'nameplate/beta-positive': negativeSign,
  'nameplate/beta-small': plausibleUnit,
  'nameplate/gamma-large': plausibleUnit,
  'nameplate/gamma-positive': negativeSign,
  'nameplate/gamma-small': plausibleUnit,
  'nameplate/imp-above-isc': exchange('Imp', 'Isc'),
  'nameplate/vmp-above-voc': exchange('Vmp', 'Voc'),
  'nameplate/voltage-per-cell': cellsOfPath,
  'plane/incomplete': missing.missingProperties,
  'plane/site-missing': missing.chooseSite,
  'reference/unknown': missing.unknownAddress,
  'site/direction-missing': value.directionMissing,
  'site/incomplete': missing.missingProperties,
  'string/incomplete': missing.missingProperties,
  'string/modules': value.modulesOfString,
  'string/plane-missing': missing.choosePlane,
  'string/run': value.reversedRun,
  'sweep/ambiguous-column': addLayout,
  'sweep/columns-exchanged': addLayout,
  'sweep/conditions-missing': missing.missingConditions,
  'sweep/data-missing': missing.missingData,
  'sweep/data-twice': missing.dataTwice,
  'sweep/duplicate-header': addLayout,
  'sweep/implausible-current': fitLayout,
  'sweep/implausible-voltage': fitLayout,
  'sweep/instrument-twice': value.secondInstrument,
  'sweep/no-address-column': nameColumn('address'),
  'sweep/no-current-column': fitLayout,
  'sweep/no-such-column': fitLayout,
  'sweep/no-time-column': nameColumn('time'),
  'sweep/no-voltage-column': fitLayout,
  'sweep/pin-length-missing': value.pinLength,
  'sweep/rear-irradiance-missing': missing.missingRear,
  'sweep/rear-irradiance-unused': missing.missingBifaciality,
  'sweep/sign-contradiction': fitLayout,
  'sweep/swapped-columns': fitLayout,
  'sweep/temperature-kind': value.temperatureKind,
  'sweep/too-few-points': fitLayout,
  'sweep/unclear-number': fitLayout,
  'sweep/unit-contradiction': fitLayout,
  'sweep/wrong-unit': fitLayout,
  'sweep/wrong-skip': fitLayout,
  'sweeps/from-missing': value.fromMissing,
  'sweeps/incomplete': nameColumn('address'),
  'time/malformed': value.malformedTime,
  'time/missing': value.missingTime,
  'unit/missing': value.missingUnit,
  'unit/unknown': value.unknownUnit,
  'unit/wrong-dimension': value.wrongUnit,
  'value/arrow-missing': value.arrowMissing,
  'value/comma-missing': value.commaMissing,
  'value/coverage-factor': value.coverageFactor,
  'value/missing': value.missingValue,
  'value/negative-uncertainty': value.negativeUncertainty,
  'value/not-a-count': value.notACount,
  'value/not-a-number': value.notANumber,
  'value/out-of-range': value.outOfRange,
  'value/range-empty': value.removeLine,
  'value/range-reversed': value.reversedRange,
  'value/tolerance': value.tolerance,
};

const onlyTheWriter = 'only the writer knows what was meant';
const measured = 'what was measured is not rewritten; the cause is to be found';
const elsewhere = 'the file has to be mended elsewhere';

/** Problems without a fix, and why. */
export const withoutFix: Readonly<Record<string, string>> = {
  'address/beyond-string': 'either the position or the count of modules is wrong; only the plant tells',
  'address/missing': onlyTheWriter,
  'address/position-zero': 'one position may be mistyped, or all of them count from 0',
  'campaign/second': 'a second campaign moves to a file of its own, which is more than an edit',
  'compare/cycle': onlyTheWriter,
  'compare/errors': elsewhere,
  'compare/itself': onlyTheWriter,
  'compare/outside': 'the file has to be moved into the folder',
  'data/not-a-file': elsewhere,
  'data/outside': 'the file has to be moved into the folder',
  'data/too-large': elsewhere,
  'data/too-many-rows': 'the campaign has to be split, or the tables thinned',
  'data/unreadable': elsewhere,
  'file/not-utf-8': 'the editor saves in another encoding, no edit of the text does',
  'file/unreadable': elsewhere,
  'history/unknown-string': onlyTheWriter,
  'include/outside': 'the file has to be moved into the folder',
  'include/too-deep': 'the includes have to be arranged anew',
  'instrument/calibration-expired': 'the instrument has to be calibrated',
  'instrument/spectral-mismatch': measured,
  'name/missing': onlyTheWriter,
  'nameplate/alpha-below-zero': 'a minus too many, or a rare module; only the label tells',
  'criteria/excludes-nameplate': 'whether the limit is meant, only the contract tells',
  'nameplate/pmax-differs': 'one of three numbers is wrong; only the label tells which',
  'nameplate/substrings': 'one of two numbers is wrong; only the data sheet tells which',
  'replace/position-missing': 'only who replaced the module knows its position',
  'replace/serial': onlyTheWriter,
  'string/formerly-of-run': onlyTheWriter,
  'string/too-many': onlyTheWriter,
  'string/unlike-peers': measured,
  'sweep/begins-after-maximum-power': measured,
  'sweep/broken-quote': elsewhere,
  'sweep/comma-twice': 'the table has to be exported anew',
  'sweep/current-zero': measured,
  'sweep/dark-curve': measured,
  'sweep/data-used-twice': onlyTheWriter,
  'sweep/ends-before-maximum-power': measured,
  'sweep/every-row-its-own': 'the table has to be exported anew',
  'sweep/implausible-deviation': measured,
  'sweep/irradiance-above-clear-sky': measured,
  'sweep/irradiances-disagree': measured,
  'sweep/last-line-cut': 'the file has to be copied again',
  'sweep/no-data': elsewhere,
  'sweep/no-table': elsewhere,
  'sweep/passes-differ': measured,
  'sweep/pin-shadow-disagrees': measured,
  'sweep/repeated': onlyTheWriter,
  'sweep/rows-skipped': 'the rows hold no numbers',
  'sweep/rows-without-address': elsewhere,
  'sweep/sweeps-read-as-one': 'the table has to be exported anew, or its times written apart',
  'sweep/sign-turned': 'nothing is wrong: it was read rightly',
  'sweep/sun-below-horizon': onlyTheWriter,
  'sweep/temperatures-disagree': measured,
  'sweep/too-many-sweeps': 'the table has to be exported anew',
  'sweep/translated-far': measured,
  'sweep/voltage-constant': measured,
  'sweep/voltage-negative': measured,
  'time/impossible': onlyTheWriter,
  'time/unreadable': elsewhere,
  'value/not-finite': onlyTheWriter,
};

/** What can be offered for a problem, the mend that it carries first. */
export async function quickFixes(
  problem: FileProblem,
  evaluation: Evaluation,
  host: FixHost,
): Promise<readonly Fix[]> {
  const carried = (problem.mends ?? []).map(({ title, range, text }, _, all): Fix => ({
    title,
    edits: [{ file: problem.file, range, text }],
    isPreferred: all.length === 1,
  }));
  const input = fixInput(problem, evaluation, host);
  const fixer = fixers[problem.id];
  const found = input && fixer ? await fixer(input) : [];
  // A number that can be converted is worth more than a unit that is spelled alike.
  if (problem.id === 'unit/unknown' && found.length > 0)
    return [...found, ...carried.map((fix) => ({ ...fix, isPreferred: false }))];
  const isDecided = carried.some(({ isPreferred }) => isPreferred);
  return [...carried, ...found.map((fix) => (isDecided ? { ...fix, isPreferred: false } : fix))];
}

/** Mends that change how a thing is written and never what it says, so that all of a file can be applied at once. */
const safe: ReadonlySet<string> = new Set([
  'name/quoted',
  'string/modules',
  'syntax/stray-character',
  'syntax/typographic-quote',
  'time/malformed',
  'value/decimal-comma',
  'value/plus-minus-missing',
  'value/quotes-missing',
]);

/** All safe mends of a file, or those of one kind. Where two touch, the first is taken. */
export function fixAll(problems: readonly FileProblem[], file: string, id?: string): Fix | undefined {
  const mends = problems
    .filter((each) => each.file === file && safe.has(each.id) && (id === undefined || each.id === id))
    .flatMap(({ mends = [] }) => (mends.length === 1 ? mends : []));
  const edits: Fix['edits'][number][] = [];
  for (const { range, text } of mends) {
    const last = edits.at(-1)?.range.end;
    const isClear =
      !last ||
      range.start.line > last.line ||
      (range.start.line === last.line && range.start.character >= last.character);
    if (isClear) edits.push({ file, range, text });
  }
  return edits.length === 0
    ? undefined
    : {
        title:
          id === undefined
            ? 'Mend all that is merely written otherwise'
            : `Mend all ${edits.length} of this kind`,
        edits,
      };
}
