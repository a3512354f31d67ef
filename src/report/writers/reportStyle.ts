import { pageStyle } from '../../presentation/pageStyle.js';
import type { Paper } from '../reportOptions.js';

/** The look of a report, on a screen and on paper: that of the page, with what a report has beyond. */
export const reportStyle = (paper: Paper): string => `${pageStyle}
.part { margin: 0; }
.strong { font-weight: 600; }
.counts b { display: inline; margin-right: 6px; }
.counts li { flex: 1 1 110px; }
.caution-title { margin: 0 0 2px; color: var(--doubtful); font-weight: 600; break-after: avoid; }
.scroll:focus-visible { outline: 2px solid #0b4f8a; outline-offset: 2px; }
.l { overflow-wrap: break-word; }
.pictures { display: flex; flex-wrap: wrap; gap: 12px 18px; margin: 6px 0 12px; }
.pictures figure { flex: 0 1 calc(50% - 9px); margin: 0; break-inside: avoid; }
.pictures img { display: block; max-width: 100%; max-height: 340px; }
.tall td { height: 56px; }
.tall td:nth-last-child(-n+2), .tall th:nth-last-child(-n+2) { min-width: 90px; border-left: 1px solid var(--line); padding-left: 8px; }
.signature { display: grid; grid-template-columns: max-content 1fr; gap: 22px 18px; break-inside: avoid; margin-top: 18px; }
.signature dt { color: var(--soft); }
.signature dd { margin: 0; display: flex; gap: 18px; }
.field { flex: 1; border-top: 1px solid var(--ink); margin-top: 18px; font-size: 11px; color: var(--soft); }
@page { size: ${paper === 'A4' ? 'A4' : 'letter'}; margin: 14mm 15mm 16mm;
  @bottom-right { content: counter(page) " / " counter(pages); font: 7pt "Liberation Sans", Arial, sans-serif; color: #5b6875; } }
@media print {
  .new-page { break-before: page; }
  .l { overflow-wrap: anywhere; }
  .short { break-inside: avoid; }
  h2, h3, caption { break-after: avoid; }
  .counts li { padding: 4px 8px; } .counts b { font-size: 14pt; }
  .tall td { height: 14mm; }
}
`;
