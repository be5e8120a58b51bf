import { expect, it } from 'vitest';
import { OwnText } from '$lib/components/ui/own-text.svelte';

it('what was typed stays when it is refused because another stands there now, and can be put in its place', async () => {
	let stored = '5 %';
	const text = new OwnText(() => stored);
	stored = '6 %';
	expect(text.shown).toBe('6 %');
	// Somebody sets 20 %, and 30 % typed against 6 % is refused.
	await text.keep(
		'30 %',
		Promise.resolve().then(() => ((stored = '20 %'), false))
	);
	expect([text.shown, text.overtaken]).toEqual(['30 %', '30 %']);
	await text.keep(
		'30 %',
		Promise.resolve().then(() => ((stored = '30 %'), true))
	);
	expect([text.shown, text.overtaken]).toEqual(['30 %', null]);
	// Refused for what it says: nobody else has been there.
	await text.keep('a lot', Promise.resolve(false));
	expect([text.shown, text.overtaken]).toEqual(['a lot', null]);
	text.shown = '40 %';
	stored = '50 %';
	expect([text.shown, text.overtaken]).toEqual(['40 %', '40 %']);
});
