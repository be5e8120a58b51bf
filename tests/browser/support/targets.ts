import type { Page } from 'playwright-core';

/**
 * What can be pressed and is less than 24 CSS px wide or high (WCAG 2.2, 2.5.8), with its size. Exceptions of that
 * criterion: what stands in a line of text. A box or a dot counts with the label that is pressed for it.
 */
export const smallTargets = (page: Page): Promise<string[]> =>
	page.evaluate(() => {
		const LEAST = 24 - 0.5;
		const isInline = (e: Element) => getComputedStyle(e).display === 'inline';
		const hasWords = (e: Element) =>
			[...e.childNodes].some((n) => n instanceof Text && /[\p{L}\p{N}]/u.test(n.data));
		function inSentence(e: Element): boolean {
			if (!isInline(e)) return false;
			for (let around = e.parentElement; around; around = around.parentElement) {
				if (hasWords(around)) return true;
				if (!isInline(around)) return false;
			}
			return false;
		}
		const kinds =
			'a[href], button:enabled, input:enabled:not([type=hidden]), select, textarea, summary, [tabindex="0"]';
		return [...document.querySelectorAll<HTMLElement>(kinds)].flatMap((e) => {
			if (!e.checkVisibility({ visibilityProperty: true }) || e.closest('.visually-hidden')) return [];
			const pressed = [e, ...((e as HTMLInputElement).labels ?? [])].map((one) =>
				one.getBoundingClientRect()
			);
			const fits = pressed.some(({ width, height }) => width >= LEAST && height >= LEAST);
			const { width, height, right, bottom } = pressed[0]!;
			const seen = width > 1 && right > 0 && bottom > 0;
			return fits || !seen || inSentence(e)
				? []
				: [
						`${e.tagName} “${(e.textContent || e.ariaLabel || '').trim().slice(0, 40)}” ${width}×${height} px`
					];
		});
	});
