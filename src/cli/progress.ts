import type { SweepsProgress } from '../evaluation/ports.js';
import type { Io } from './io.js';

/** Milliseconds between two drawings of the line where nothing else is written. */
const pause = 100;
/** Milliseconds, and a share of all that is to be done, after which the time left can be guessed. */
const learning = { time: 2000, share: 0.02 } as const;
/** Fewer sweeps are done before anyone asks. */
const sweepsWorthTelling = 200;
/** Of the time that sweeps take: `npm run bench`. */
const shareOfAnalysing = 0.7;

/** One line on the terminal of the error stream, written over, and gone at the end. */
export class ProgressLine {
  readonly #io: Io;
  readonly #started = Date.now();
  #drawn = 0;

  constructor(io: Io) {
    this.#io = io;
  }

  /** Writes to either stream, with the line out of the way. */
  beside(write: () => void): void {
    this.erase();
    write();
  }

  erase(): void {
    // To the start of the line, and what stands in it away: ECMA-48, EL.
    if (this.#drawn !== 0) this.#io.error('\r\u001b[2K');
    this.#drawn = 0;
  }

  /**
   * @param how far it is, in words; asked for where it is drawn
   * @param share of all that is to be done, 0 to 1
   */
  show(how: () => string, share: number): void {
    const now = Date.now();
    if (this.#drawn !== 0 && now - this.#drawn < pause) return;
    // A line that breaks could not be written over.
    const line = (how() + this.#timeLeft(share)).slice(0, Math.max(0, this.#io.errorTerminal!.columns() - 1));
    this.erase();
    this.#io.error(line);
    this.#drawn = now;
  }

  #timeLeft(share: number): string {
    const passed = Date.now() - this.#started;
    if (share < learning.share || share === 1 || passed < learning.time) return '';
    return `, about ${roughly((passed / share) * (1 - share))} left`;
  }
}

/** How far a run over several campaigns is. */
export class CampaignsDone {
  readonly #line: ProgressLine;
  readonly #total: number;
  #done = 0;
  #failed = 0;

  constructor(line: ProgressLine, total: number) {
    this.#line = line;
    this.#total = total;
    this.#show();
  }

  one(failed: boolean): void {
    this.#done++;
    if (failed) this.#failed++;
    this.#show();
  }

  #show(): void {
    const failed = this.#failed > 0 ? `, ${this.#failed} failed` : '';
    this.#line.show(() => `${this.#done} of ${this.#total} campaigns${failed}`, this.#done / this.#total);
  }
}

/** How far a campaign of many sweeps is. */
export const sweepsDone =
  (line: ProgressLine): SweepsProgress =>
  (step, done, of) => {
    if (of < sweepsWorthTelling) return;
    const share =
      step === 'analysed'
        ? (shareOfAnalysing * done) / of
        : shareOfAnalysing + ((1 - shareOfAnalysing) * done) / of;
    line.show(() => `${grouped(done)} of ${grouped(of)} sweeps ${step}`, share);
  };

/** Shows how far the sweeps of the campaigns are that `work` computes one after the other. */
export async function showingSweeps<Result>(
  io: Io,
  work: (progress: SweepsProgress | undefined) => Promise<Result>,
): Promise<Result> {
  const line = progressLine(io);
  try {
    return await work(line && sweepsDone(line));
  } finally {
    line?.erase();
  }
}

const grouped = (count: number): string => count.toLocaleString('en');

/** `20 s`, `3 min`, `2 h`: no more digits than a guess has. */
function roughly(milliseconds: number): string {
  const seconds = milliseconds / 1000;
  if (seconds < 60) return `${Math.max(5, 5 * Math.round(seconds / 5))} s`;
  return seconds < 5400 ? `${Math.round(seconds / 60)} min` : `${Math.round(seconds / 3600)} h`;
}

/** Undefined where nobody watches, as on a build server, or where a dumb terminal cannot take a line back. */
export function progressLine(io: Io): ProgressLine | undefined {
  const { errorTerminal, environment } = io;
  const isWatched = errorTerminal !== undefined && !environment['CI'] && environment['TERM'] !== 'dumb';
  return isWatched ? new ProgressLine(io) : undefined;
}
