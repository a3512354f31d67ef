/** What a table has to offer to the lines that name its columns. */
import type { ColumnRole } from '../sweeps/headerWords.js';
import { recogniseLayout } from '../sweeps/recogniseLayout.js';

export interface TableColumn {
  /** From 1. */
  readonly number: number;
  /** Text of its header; absent in a table without a header line. */
  readonly header?: string;
  readonly unit?: string;
  /** What it is read as, where that is recognised. */
  readonly role?: ColumnRole;
}

/** The columns of a table as its header names them; none when no table is found in it. */
export function tableColumns(bytes: Uint8Array): readonly TableColumn[] {
  return recogniseLayout(bytes).layout?.columns ?? [];
}
