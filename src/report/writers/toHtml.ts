/**
 * A report as one HTML file: no script, nothing fetched from elsewhere, everything the user wrote escaped. It reads on a screen
 * and prints on the paper of the report.
 */
import { html, trusted, type Html } from '../../presentation/htmlText.js';
import {
  plainText,
  spansOf,
  type Block,
  type FigureBlock,
  type HeadingBlock,
  type Line,
  type PicturesBlock,
  type ReportDocument,
  type Span,
  type TableBlock,
} from '../document.js';
import { reportStyle } from './reportStyle.js';

/** @param svgByChart the drawn charts by key; one that is missing is left out, and its numbers stay in the tables. */
export function toHtml(report: ReportDocument, svgByChart: ReadonlyMap<string, string>): string {
  return html`<!doctype html>
    <html lang="${report.language}">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light" />
        <meta
          http-equiv="Content-Security-Policy"
          content="default-src 'none'; style-src 'unsafe-inline'; img-src data:"
        />
        <title>${report.title}</title>
        <style>
          ${trusted(reportStyle(report.paper))}
        </style>
      </head>
      <body>
        <header><p class="kind">${report.kind}</p></header>
        <main>${sections(report.blocks).map((blocks) => section(blocks, svgByChart))}</main>
        <footer class="small">${report.colophon}</footer>
      </body>
    </html> `.html;
}

/** A section begins with each heading of the second level; the first holds what stands before. */
function sections(blocks: readonly Block[]): Block[][] {
  const parts: Block[][] = [[]];
  let breaks = false;
  for (const block of blocks) {
    if (block.kind === 'page break') breaks = true;
    else if (block.kind === 'heading' && block.level === 2) {
      parts.push(breaks ? [{ kind: 'page break' }, block] : [block]);
      breaks = false;
    } else parts.at(-1)!.push(block);
  }
  return parts.filter((part) => part.length > 0);
}

function section(blocks: readonly Block[], svgByChart: ReadonlyMap<string, string>): Html {
  const [first, ...rest] = blocks;
  const onNewPage = first?.kind === 'page break';
  const all = onNewPage ? rest : blocks;
  return html`<section class="${onNewPage ? 'part new-page' : 'part'}">
    ${all.map((block) => blockHtml(block, svgByChart))}
  </section> `;
}

function blockHtml(block: Block, svgByChart: ReadonlyMap<string, string>): Html | undefined {
  switch (block.kind) {
    case 'heading':
      return heading(block);
    case 'paragraph':
      return html`<p class="${block.small ? 'small' : 'text'}">${lineHtml(block.text)}</p> `;
    case 'list':
      return html`<ul>
        ${block.items.map((item) => html`<li>${lineHtml(item)}</li> `)}
      </ul> `;
    case 'facts':
      return html`<dl class="facts">
        ${block.rows.map(
          ([name, value]) =>
            html`<dt>${name}</dt>
              <dd>${lineHtml(value)}</dd> `,
        )}
      </dl> `;
    case 'counts':
      return html`<ul class="counts" aria-label="${block.title}">
        ${block.items.map(({ count, mark }) => html`<li><b>${count}</b> ${lineHtml(mark)}</li> `)}
      </ul> `;
    case 'table':
      return table(block);
    case 'figure':
      return figure(block, svgByChart);
    case 'pictures':
      return pictures(block);
    case 'caution':
      return html`<div class="caution" role="note">
        <p class="caution-title">${block.title}</p>
        <ul>
          ${block.items.map((item) => html`<li>${lineHtml(item)}</li> `)}
        </ul>
      </div> `;
    case 'signature':
      return html`<dl class="signature">
        ${block.lines.map(
          ({ who, fields }) =>
            html`<dt>${who}</dt>
              <dd>${fields.map((field) => html`<span class="field">${field}</span> `)}</dd> `,
        )}
      </dl> `;
    case 'page break':
      return undefined;
  }
}

function heading({ level, text, anchor }: HeadingBlock): Html {
  const words = lineHtml(text);
  if (level === 1) return html`<h1>${words}</h1> `;
  if (level === 3) return html`<h3>${words}</h3> `;
  return anchor === undefined ? html`<h2>${words}</h2> ` : html`<h2 id="${anchor}">${words}</h2> `;
}

const lineHtml = (line: Line): Html[] => spansOf(line).map(spanHtml);

function spanHtml({ text, tone, symbol, strong, soft, link, language }: Span): Html {
  const classes = [
    ...(symbol === undefined ? [] : ['mark']),
    ...(tone === undefined ? [] : [`tone-${tone}`]),
    ...(strong ? ['strong'] : []),
    ...(soft ? ['soft'] : []),
  ].join(' ');
  const words = symbol === undefined ? html`${text}` : html`<span aria-hidden="true">${symbol}</span>${text}`;
  if (link !== undefined) return html`<a href="#${link}">${words}</a>`;
  if (classes === '' && language === undefined) return words;
  const attributes = [
    ...(classes === '' ? [] : [html` class="${classes}"`]),
    ...(language === undefined ? [] : [html` lang="${language}"`]),
  ];
  return html`<span${attributes}>${words}</span>`;
}

/** Characters of a cell that is not broken, however narrow the page. */
const longestWhole = 26;

/** Rows of a table that is kept on one page. */
const shortTable = 14;

function table({ caption, columns, rows, tall }: TableBlock): Html {
  const classOf = (index: number, cell: Line): string => {
    const { align, whole } = columns[index]!;
    if (align === 'right') return 'n';
    return whole && plainText(cell).length <= longestWhole ? 'w' : 'l';
  };
  return html`<div class="scroll" tabindex="0" role="group" aria-label="${caption ?? columns[0]!.title}">
    <table class="${[tall ? 'tall' : 'plain', ...(rows.length <= shortTable ? ['short'] : [])].join(' ')}">
      ${
        caption === undefined
          ? undefined
          : html`<caption>
              ${caption}
            </caption>`
      }
      <thead>
        <tr>
          ${columns.map(({ title }, index) => html`<th scope="col" class="${classOf(index, title)}">${title}</th> `)}
        </tr>
      </thead>
      <tbody>
        ${rows.map(
          (row) =>
            html`<tr>
              ${row.map((cell, index) =>
                index === 0
                  ? html`<th scope="row" class="${classOf(index, cell)}">${lineHtml(cell)}</th> `
                  : html`<td class="${classOf(index, cell)}">${lineHtml(cell)}</td> `,
              )}
            </tr> `,
        )}
      </tbody>
    </table>
  </div> `;
}

/** The figure says in words what its charts show; their parts say nothing of their own. */
const withoutRoles = (svg: string): string => svg.replace(/ (?:role|aria-[a-z]+)="[^"]*"/g, '');

function figure(
  { charts, description, caption }: FigureBlock,
  svgByChart: ReadonlyMap<string, string>,
): Html | undefined {
  const drawn = charts.flatMap(({ key }) => svgByChart.get(key) ?? []);
  if (drawn.length === 0) return undefined;
  return html`<figure>
    <div class="${drawn.length > 1 ? 'pair' : 'single'}" role="img" aria-label="${description}">
      ${drawn.map((svg) => trusted(withoutRoles(svg)))}
    </div>
    ${caption === undefined ? undefined : html`<figcaption>${caption}</figcaption>`}
  </figure> `;
}

const pictures = ({ pictures: shown }: PicturesBlock): Html =>
  html`<div class="pictures">
    ${shown.map(
      ({ picture, name, caption }) =>
        html`<figure>
          <img src="data:${picture.type};base64,${base64(picture.bytes)}" alt="${name}" />
          <figcaption>${caption}</figcaption>
        </figure> `,
    )}
  </div> `;

/** Of browsers, workers and Node alike. */
declare function btoa(binary: string): string;

function base64(bytes: Uint8Array): string {
  const parts: string[] = [];
  // So many arguments any engine takes.
  for (let from = 0; from < bytes.length; from += 0x2000)
    parts.push(String.fromCharCode(...bytes.subarray(from, from + 0x2000)));
  return btoa(parts.join(''));
}
