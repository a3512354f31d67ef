/** The look of the page, on screen and on A4 paper. */
export const pageStyle = `
:root { --ink: #1d2733; --soft: #5b6875; --line: #cfd6dd; --wash: #f4f6f8; --good: #1f6f43; --doubtful: #8a5a00; --bad: #a3182c; --neutral: #5b6875; }
* { box-sizing: border-box; }
html { color-scheme: light; -webkit-text-size-adjust: 100%; }
body { margin: 0 auto; padding: 28px 32px 48px; max-width: 800px; background: #fff; color: var(--ink);
  font: 14px/1.5 "Liberation Sans", Arial, Helvetica, sans-serif; font-variant-numeric: tabular-nums; overflow-wrap: anywhere; }
h1 { font-size: 26px; line-height: 1.2; margin: 4px 0 10px; font-weight: 600; letter-spacing: -0.01em; }
h2 { font-size: 17px; margin: 34px 0 8px; padding-top: 10px; border-top: 2px solid var(--ink); break-after: avoid; }
h3 { font-size: 13px; margin: 16px 0 4px; color: var(--soft); font-weight: 600; break-after: avoid; }
p, ul, ol, dl { margin: 6px 0; }
ul, ol { padding-left: 20px; }
li { margin: 2px 0; }
a { color: inherit; text-decoration-color: var(--soft); text-underline-offset: 2px; }
a:focus-visible { outline: 2px solid #0b4f8a; outline-offset: 2px; }
.kind { color: var(--soft); font-size: 13px; margin: 0; }
.facts { display: grid; grid-template-columns: max-content 1fr; gap: 2px 18px; margin: 0 0 18px; }
.facts dt { color: var(--soft); }
.facts dd { margin: 0; }
.counts { list-style: none; display: flex; flex-wrap: wrap; gap: 0; margin: 14px 0; padding: 0; border: 1px solid var(--line); }
.counts li { flex: 1 1 100px; padding: 8px 12px; margin: 0; border-right: 1px solid var(--line); }
.counts li:last-child { border-right: 0; }
.counts b { display: block; font-size: 22px; line-height: 1.2; font-weight: 600; }
.counts .none { color: var(--soft); }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; margin: 6px 0 10px; font-size: 13px; line-height: 1.35; overflow-wrap: normal; }
caption { text-align: left; color: var(--soft); font-size: 12px; padding-bottom: 4px; }
th, td { padding: 4px 10px 4px 0; text-align: left; vertical-align: baseline; border-bottom: 1px solid var(--line); }
thead th { color: var(--soft); font-weight: 600; font-size: 12px; border-bottom: 1px solid var(--ink); vertical-align: bottom; }
tbody th { font-weight: 600; }
th:last-child, td:last-child { padding-right: 0; }
.n { text-align: right; white-space: nowrap; }
.w { white-space: nowrap; }
tr { break-inside: avoid; }
thead { display: table-header-group; }
.tone-good { color: var(--good); } .tone-doubtful { color: var(--doubtful); } .tone-bad { color: var(--bad); } .tone-neutral { color: var(--neutral); }
.mark { white-space: nowrap; font-weight: 600; }
.mark span { display: inline-block; width: 1.1em; }
.soft { color: var(--soft); }
.small { font-size: 12px; color: var(--soft); }
figure { margin: 10px 0; break-inside: avoid; }
figure svg { display: block; max-width: 100%; height: auto; }
figcaption { font-size: 12px; color: var(--soft); }
.pair { display: grid; grid-template-columns: 1fr 1fr; gap: 8px 20px; align-items: start; }
.sweep { margin-top: 30px; border-top: 2px solid var(--ink); padding-top: 10px; }
.sweep h2 { border: 0; margin: 0; padding: 0; display: flex; justify-content: space-between; gap: 16px; flex-wrap: wrap; }
.sweep h2 .when { font-weight: 400; }
.verdict { margin: 2px 0 8px; font-size: 14px; }
.keep { break-inside: avoid; }
.decisive { font-weight: 600; }
.caution { border: 1px solid var(--doubtful); border-left-width: 6px; padding: 8px 14px 10px; margin: 16px 0; break-inside: avoid; }
.caution h3 { margin: 0 0 2px; color: var(--doubtful); font-size: 14px; }
footer { margin-top: 36px; padding-top: 8px; border-top: 1px solid var(--line); }
@media (max-width: 640px) { body { padding: 18px 14px; } .pair { grid-template-columns: 1fr; } }
@page { size: A4; margin: 13mm 15mm; }
@media print {
  body { max-width: none; padding: 0; font-size: 9pt; line-height: 1.4; }
  table { font-size: 8pt; line-height: 1.25; margin-bottom: 6px; } .scroll { overflow: visible; }
  th, td { padding: 2px 8px 2px 0; }
  caption, figcaption, .small { font-size: 7.5pt; }
  thead th { font-size: 7.5pt; }
  h1 { font-size: 20pt; } h2 { font-size: 12.5pt; margin-top: 20px; } h3 { font-size: 9pt; margin-top: 8px; }
  .sweep ul { font-size: 8.5pt; margin: 2px 0; } .sweep li { margin: 0; } .sweep figure { margin: 4px 0; }
  .pair svg { max-height: 54mm; }
  a { text-decoration: none; }
  .sweeps, .annex { break-before: page; }
  .sweep { margin-top: 22px; break-inside: avoid; }
  .sweeps > .sweep:first-of-type { margin-top: 0; }
}
`;
