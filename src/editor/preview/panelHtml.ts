/** The page of the panel: no inline code or styles, nothing from outside, no code made from strings. */

export interface PanelPage {
  /** Source of the panel's own files, as the editor names it. */
  readonly cspSource: string;
  readonly script: string;
  readonly styles: string;
  /** Unguessable, new for each page. */
  readonly nonce: string;
}

export function contentSecurityPolicy({ cspSource, nonce }: PanelPage): string {
  return [
    "default-src 'none'",
    `script-src 'nonce-${nonce}'`,
    `style-src ${cspSource}`,
    `font-src ${cspSource}`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
}

export function panelHtml(page: PanelPage): string {
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${contentSecurityPolicy(page)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="stylesheet" href="${page.styles}">
<title>Sweepbook curves</title>
</head>
<body>
<div id="panel"></div>
<script nonce="${page.nonce}" src="${page.script}"></script>
</body>
</html>
`;
}

export function newNonce(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(24));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
