import { describe, expect, it } from 'vitest';
import { methodPage, methods, withMath } from '$lib/server/methods';

describe('methods pages', () => {
	it.each(methods().map(({ name }) => [name]))(
		'%s has a title, says what it answers, and every formula is set',
		(name) => {
			const page = methodPage(name)!;
			expect(page.title).not.toBe('');
			// The TeX itself stands beside each formula, for those who copy it.
			const shown = page.html.replace(/<annotation[^>]*>.*?<\/annotation>/gs, '');
			expect(shown).not.toMatch(/\$\$|\\frac|[\uE000-\uE003]|katex-error/);
			expect(page.html).not.toMatch(/<(script|style|img|iframe)/);
			expect(methods().find((method) => method.name === name)!.about.length).toBeGreaterThan(20);
		}
	);
	it('a figure that stands beside a page is drawn into it', () => {
		const { html } = methodPage('weighing')!;
		expect(html).toMatch(/<figure [^>]*tabindex="0"><svg [^>]*aria-label="Of the events that were given/);
		expect(html).not.toContain('not shown');
	});
	it('there is none of an unknown name', () => {
		expect(methodPage('sorcery')).toBeNull();
		expect(methodPage('../../package')).toBeNull();
	});
});

describe('formulas', () => {
	it('become MathML, in the line or on their own', () => {
		const html = withMath('Where $v_t$ holds\n\n$$a = \\frac{b}{c}$$\n');
		expect(html.match(/<math/g)).toHaveLength(2);
		expect(html).toContain('<mfrac>');
		expect(html).toMatch(/<span class="formula"[^>]*tabindex="0">.*display="block"/);
	});
	it('leave prices, code and hostile text alone', () => {
		const html = withMath('It cost 5 $ and `a $b$ c` <script>alert(1)</script>');
		expect(html).not.toContain('<math');
		expect(html).toContain('<code>a $b$ c</code>');
		expect(html).not.toContain('<script>');
	});
	it('can neither link nor load', () => {
		expect(withMath('$\\href{javascript:alert(1)}{x}$')).not.toMatch(/href="javascript/);
	});
	it('pages name one another by their address', () => {
		expect(withMath('[drag](fall-with-drag.md#law)')).not.toContain('.md');
	});
});
