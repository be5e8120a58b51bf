import { expect, test } from 'vitest';
import { newDraft } from '$lib/components/evidence/item-draft';
import { emptyInvestigation } from '$lib/investigation/case';

test('a new test says nothing of itself: no kind, no trust, and it was not found', () => {
	const draft = newDraft('test', 'Ilse', emptyInvestigation());
	expect(draft.own['testKind']).toBe('');
	expect(draft.trust).toBe('');
	expect(draft.state).toBe('notKnown');
	expect(newDraft('piece', 'Ilse', emptyInvestigation()).state).toBe('asFound');
});
