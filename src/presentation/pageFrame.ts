import type { TopLevelSpec } from 'vega-lite';
import { html, trusted, type Html } from './htmlText.js';
import { pageStyle } from './pageStyle.js';

/** A chart that a host draws as SVG and hands back by its key. */
export interface PageChart {
  readonly key: string;
  readonly spec: TopLevelSpec;
}

/** A page of its own: no script, nothing from elsewhere. */
export function pageFrame(title: string, body: Html): string {
  return html`<!doctype html>
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light" />
        <meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'" />
        <title>${title}</title>
        <style>
          ${trusted(pageStyle)}
        </style>
      </head>
      <body>
        ${body}
      </body>
    </html> `.html;
}
