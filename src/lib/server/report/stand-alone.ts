import { createHash } from 'node:crypto';
import font from '@fontsource-variable/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-wght-normal.woff2?inline';
import { PRINTED } from '$lib/report/palette';
import reportCss from '$lib/report/report.css?raw';
import type { Report } from './gather';

const STYLE = `@font-face{font-family:'Atkinson Hyperlegible Next Variable';font-weight:200 800;src:url(${font}) format('woff2-variations')}
:root{--paper:#f6f5f0;--sheet:${PRINTED.sheet};--ink:${PRINTED.ink};--ink-2:${PRINTED.ink2};--ink-3:#66707a;--rule:#d8d6cd;--rule-strong:${PRINTED.rule};--action:#14566b;--mark:${PRINTED.mark};--mark-ink:#a63f20;--mark-wash:${PRINTED.wash};--caution-ink:#7a4f00;--mono:ui-monospace,monospace}
*,::before,::after{box-sizing:border-box}
html{font:400 15px/1.45 'Atkinson Hyperlegible Next Variable','Atkinson Hyperlegible Next',system-ui,sans-serif;font-variant-numeric:tabular-nums;color:var(--ink);background:var(--sheet);overflow-wrap:break-word}
body{margin:0;padding:28px clamp(16px,5vw,64px) 64px}
main{margin:0 auto;max-width:920px}
h1{margin:0 0 16px;font-size:26px;line-height:1.2}
h2,h3,p,ul,figure{margin:0;padding:0}
@media print{body{padding:0}main{max-width:none}}
${reportCss}`;

const hash = `'sha256-${createHash('sha256').update(STYLE).digest('base64')}'`;
/** No script, nothing from anywhere: what is not in the file is not there. */
const POLICY = `default-src 'none'; img-src data:; font-src data:; style-src ${hash}; style-src-attr 'unsafe-inline'; base-uri 'none'; form-action 'none'`;

const escape = (text: string) => text.replace(/[&<>"']/g, (c) => `&#${c.codePointAt(0)};`);

/** The report as one HTML file that needs nothing else. */
export function standAlone({ title, html }: Report): string {
	return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="content-security-policy" content="${POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>${escape(title)}</title>
<style>${STYLE}</style>
</head>
<body>
<main>
<h1>${escape(title)}</h1>
<article class="report">
${html}
</article>
</main>
</body>
</html>
`;
}
