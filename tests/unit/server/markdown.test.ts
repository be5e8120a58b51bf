import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { safeHtml } from '$lib/server/markdown';

const TAGS =
	/^<(?:\/(?:h[1-6]|p|blockquote|ul|ol|li|pre|em|strong|del|code|a|table|thead|tbody|tr|th|td)|(?:h[1-6]|p|blockquote|ul|li|pre|em|strong|del|code|table|thead|tbody|tr)|(?:br|hr) \/|ol(?: start="\d+")?|th scope="(?:col|row)"(?: align="(?:left|right|center)")?|td(?: data-label="[^"<>]*")?(?: align="(?:left|right|center)")?|a(?: href="(?:https?:\/\/|mailto:|#|\/(?![/\\]))[^"<>]*")?(?: rel="noopener noreferrer")?)>/i;

/** Reads the HTML by itself: what is in it that is neither plain text nor on the list? */
function unsafe(html: string): string[] {
	const found: string[] = [];
	for (let at = html.indexOf('<'); at >= 0; at = html.indexOf('<', at + 1))
		if (!TAGS.test(html.slice(at))) found.push(html.slice(at, at + 60));
	return found;
}

describe('markdown becomes plain structure', () => {
	it('keeps what people write', () => {
		const html = safeHtml(
			'# Bay\n\nGlue **bare** on *70 %*, see [E7](#e7).\n\n| load | N |\n|---|---:|\n| first | 45 |\n\n3. c\n\n- [x] done'
		);
		expect(html).toContain('<h1>Bay</h1>');
		expect(html).toContain('<strong>bare</strong>');
		expect(html).toContain('<a href="#e7" rel="noopener noreferrer">E7</a>');
		expect(html).toContain('<td data-label="N" align="right">45</td>');
		expect(html).toContain('<ol start="3">');
		expect(html).toContain('☑ done');
	});

	it('shows HTML as the text it is', () => {
		expect(safeHtml('a < b, <b>bold</b> & done')).toBe(
			'<p>a &lt; b, &lt;b&gt;bold&lt;/b&gt; &amp; done</p>\n'
		);
	});

	it('never loads a picture: an item by its number is linked, anything else is its words', () => {
		expect(safeHtml('![the crack](E12)')).toContain('<a href="#e12" rel="noopener noreferrer">the crack</a>');
		const elsewhere = safeHtml('![the crack](https://pictures.example/crack.png)');
		expect(elsewhere).toContain('the crack (not shown');
		expect(elsewhere).not.toContain('pictures.example');
	});

	it('a quoted heading does not break the outline, a quoted fence does not swallow what follows', () => {
		const html = safeHtml('> # Loud\n> - ## deep\n> ```\n> never closed\n\nafter');
		expect(html).not.toMatch(/<h\d/);
		expect(html).toContain('<strong>Loud</strong>');
		expect(html).toContain('<p>after</p>');
	});
});

describe('text with markup can do nothing', () => {
	it.each([
		'<script>fetch("/do")</script>',
		'<img src=x onerror=alert(1)>',
		'<svg/onload=alert(1)><animate onbegin=alert(1)>',
		'<iframe srcdoc="<script>1</script>"></iframe>',
		'[tap](javascript:alert(1))',
		'[tap](JaVa\tScRiPt:alert(1))',
		'[tap](&#106;avascript:alert(1))',
		'[tap](data:text/html;base64,PHNjcmlwdD4x)',
		'[tap](vbscript:msgbox(1))',
		'![x](javascript:alert(1) "onerror=alert(1)")',
		'![beacon](//collector.example/p.png)',
		'<a href="//collector.example" onclick="x()">go</a>',
		'<math><mtext><table><mglyph><style><!--</style><img title="--&gt;&lt;img src=1 onerror=alert(1)&gt;">',
		'<form action=/vehicles/x/do><input name=who><button formaction=javascript:1>',
		'<style>@import url(//collector.example/a.css)</style>',
		'<base href="//collector.example/"><meta http-equiv=refresh content="0;url=//collector.example">',
		'<noscript><p title="</noscript><img src=x onerror=alert(1)>">',
		'"><details open ontoggle=alert(1)>',
		'`<img src=x onerror=alert(1)>`\n\n```html"><script>\n</code></pre><script>1</script>\n```',
		'[a]: javascript:alert(1)\n\n[a] and [b](</\\collector.example>) <javascript:alert(1)>'
	])('%s', (attack) => {
		expect(unsafe(safeHtml(attack))).toEqual([]);
	});

	it('nor can anything made of the pieces of such text', () => {
		const pieces = [
			...[
				'<',
				'>',
				'</',
				'/>',
				'<script>',
				'</script>',
				'<svg onload=1>',
				'<!--',
				'-->',
				'<![CDATA[',
				'<a href='
			],
			...[
				'"',
				"'",
				'`',
				'```\n',
				'\n\n',
				'\n> ',
				'\n# ',
				'[',
				'](',
				')',
				'![',
				'|',
				'\n|---|\n',
				'\\',
				'\0',
				'\u2028'
			],
			...[
				'javascript:',
				'java\nscript:',
				'data:',
				'//h.example',
				'onerror=',
				' style=',
				'&#60;',
				'&lt;',
				'&colon;'
			]
		];
		const text = fc
			.array(fc.oneof(fc.constantFrom(...pieces), fc.string({ maxLength: 6 })), { maxLength: 24 })
			.map((parts) => parts.join(''));
		fc.assert(
			fc.property(text, (attack) => {
				const html = safeHtml(attack);
				expect(unsafe(html)).toEqual([]);
			}),
			{ numRuns: 3000 }
		);
	});

	it('the reader of this test sees an attack where there is one', () => {
		for (const html of [
			'<script>',
			'<p onclick="x">',
			'<a href="javascript:1">',
			'<img src="x">',
			'<a href="//h">'
		])
			expect(unsafe(html)).not.toEqual([]);
	});
});
