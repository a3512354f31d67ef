import type { BlockPlace, ReplaceRecord } from '../campaign/model.js';
import { momentOfTime } from '../campaign/moment.js';
import { ofDeclarations } from '../campaign/ofDeclarations.js';
import { planeOf, siteOf } from '../campaign/sweepTarget.js';
import { rangeOnLine, shiftRange, type Place } from '../text/place.js';
import type { FileProblem } from '../text/problem.js';
import type { Check } from './check.js';

/** Each module carries one serial number and is in one place at a time. */
export const serialNumbers: Check = {
  id: 'replace/serial',
  says: 'A serial number taken out is not the one that was put in before, or one stands in two places.',
  run: ({ campaign }) => problemsOf(campaign),
};

const problemsOf = ofDeclarations((campaign): FileProblem[] => {
  const replacements = campaign.declarations.flatMap(({ record, block }) => {
    if (record.kind !== 'replace' || !record.serial || !isOneModule(record)) return [];
    const string = campaign.strings.get(record.address.string)?.record;
    const site = siteOf(planeOf(string, campaign), campaign);
    return [{ record, block, moment: record.time ? momentOfTime(record.time, site) : -Infinity }];
  });
  // Equal times, and what has none, stay in reading order.
  replacements.sort((a, b) => (a.moment === b.moment ? 0 : a.moment - b.moment));
  const stock = new Stock();
  return replacements.flatMap(({ record, block }) => stock.exchange(record, block));
});

/** One serial number names one module. */
const isOneModule = ({ address: { first, last = first } }: ReplaceRecord): boolean =>
  first !== undefined && first === last;

interface Installed {
  readonly serial: string;
  readonly at: string;
  readonly place: Place;
}

/** Which module stands where, as far as the replacements up to now tell. */
class Stock {
  readonly #byPlace = new Map<string, Installed>();
  readonly #bySerial = new Map<string, Installed>();

  exchange(record: ReplaceRecord, block: BlockPlace): FileProblem[] {
    const { old, new: fresh } = record.serial!;
    const at = `${record.address.string}/${record.address.first!}`;
    const place = placeOf(record, block);
    const problem = this.#complaint(at, old, fresh, place);
    this.#takeOut(at, old);
    const installed = { serial: fresh, at, place };
    this.#byPlace.set(at, installed);
    this.#bySerial.set(fresh, installed);
    return problem ? [problem] : [];
  }

  #takeOut(at: string, old: string): void {
    const former = this.#byPlace.get(at);
    if (former && this.#bySerial.get(former.serial) === former) this.#bySerial.delete(former.serial);
    const elsewhere = this.#bySerial.get(old);
    if (elsewhere && elsewhere.at !== at) this.#byPlace.delete(elsewhere.at);
    this.#bySerial.delete(old);
  }

  #complaint(at: string, old: string, fresh: string, place: Place): FileProblem | undefined {
    if (old === fresh)
      return warning(place, `Serial number "${old}" is taken out and put in again: which is the new one?`);
    const former = this.#byPlace.get(at);
    if (former && former.serial !== old) {
      const message = `"${old}" is taken out of ${at}, where "${former.serial}" was put in before. See which serial number, position or time is right.`;
      return warning(place, message, former);
    }
    const elsewhere = this.#bySerial.get(old);
    if (elsewhere && elsewhere.at !== at)
      return warning(
        place,
        `"${old}" is taken out of ${at}, but it was put into ${elsewhere.at}.`,
        elsewhere,
      );
    const twice = this.#bySerial.get(fresh);
    if (twice) {
      const message = `"${fresh}" is put into ${at}, but it stands in ${twice.at} already: one module is in one place.`;
      return warning(place, message, twice);
    }
    return undefined;
  }
}

function placeOf(record: ReplaceRecord, block: BlockPlace): Place {
  const range = record.propertyRanges.get('serial') ?? rangeOnLine(0, 0, 0);
  return { file: block.file, range: shiftRange(range, block.startLine) };
}

function warning({ file, range }: Place, message: string, other?: Installed): FileProblem {
  const related = other
    ? [{ place: other.place, message: `"${other.serial}" is put into ${other.at} here.` }]
    : [];
  return { id: serialNumbers.id, severity: 'warning', file, range, message, related };
}
