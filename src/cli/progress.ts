import type { Io } from './io.js';

/** Milliseconds between two drawings of the line where nothing else is written. */
const pause = 100;
/** Milliseconds after which the time left can be guessed. */
const learning = 2000;

/** How far a long run is: one line on the terminal of the error stream, written over, and gone at the end. */
export class Progress {
  readonly #io: Io;
  readonly #total: number;
  readonly #started = Date.now();
  #drawn = 0;
  #done = 0;
  #failed = 0;

  constructor(io: Io, total: number) {
    this.#io = io;
    this.#total = total;
    this.#draw();
  }

  /** Writes to either stream, with the line out of the way. */
  beside(write: () => void): void {
    this.#erase();
    write();
  }

  campaignDone(failed: boolean): void {
    this.#done++;
    if (failed) this.#failed++;
    if (this.#drawn === 0 || Date.now() - this.#drawn >= pause) this.#draw();
  }

  end(): void {
    this.#erase();
  }

  #erase(): void {
    // To the start of the line, and what stands in it away: ECMA-48, EL.
    if (this.#drawn !== 0) this.#io.error('\r\u001b[2K');
    this.#drawn = 0;
  }

  #draw(): void {
    // A line that breaks could not be written over.
    const line = this.#line().slice(0, Math.max(0, this.#io.errorTerminal!.columns() - 1));
    this.#erase();
    this.#io.error(line);
    this.#drawn = Date.now();
  }

  #line(): string {
    const failed = this.#failed > 0 ? `, ${this.#failed} failed` : '';
    return `${this.#done} of ${this.#total} campaigns${failed}${this.#timeLeft()}`;
  }

  #timeLeft(): string {
    const passed = Date.now() - this.#started;
    if (this.#done === 0 || this.#done === this.#total || passed < learning) return '';
    return `, about ${roughly((passed / this.#done) * (this.#total - this.#done))} left`;
  }
}

/** `20 s`, `3 min`, `2 h`: no more digits than a guess has. */
function roughly(milliseconds: number): string {
  const seconds = milliseconds / 1000;
  if (seconds < 60) return `${Math.max(5, 5 * Math.round(seconds / 5))} s`;
  return seconds < 5400 ? `${Math.round(seconds / 60)} min` : `${Math.round(seconds / 3600)} h`;
}

/** Nobody watches a build server, and a dumb terminal cannot take a line back. */
export const showsProgress = ({ errorTerminal, environment }: Io): boolean =>
  errorTerminal !== undefined && !environment['CI'] && environment['TERM'] !== 'dumb';
