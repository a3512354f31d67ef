import type { StringCase } from '../cases/stringCase.js';
import type { CheckedSweep } from '../checks/check.js';
import type { CaseResult } from './caseResultSchema.js';

/** A case as `check --format json` writes it. */
export function caseResult(each: StringCase, display: (file: string) => string): CaseResult {
  const { proposal } = each;
  return {
    string: each.string,
    state: each.state,
    opened: sweepRef(each.openedBy),
    closed: sweepRef(each.closedBy),
    modules: each.modules.map(({ position, status, because, serial }) => ({
      position,
      status,
      because,
      serial: serial ?? null,
    })),
    events: each.events.map(({ kind, address, time, text, place }) => ({
      kind,
      address,
      time: time ?? null,
      text,
      file: display(place.file),
      line: place.range.start.line + 1,
    })),
    next: proposal
      ? {
          kind: proposal.kind,
          addresses: [...proposal.addresses],
          text: proposal.text,
          why: proposal.why,
          disconnects: proposal.disconnects,
        }
      : null,
  };
}

const sweepRef = (sweep: CheckedSweep | undefined): CaseResult['opened'] =>
  sweep ? { address: sweep.address, time: sweep.time ?? null } : null;
