import { describe, expect, it } from 'vitest';
import { leadingSentences, leadOf } from '$lib/investigation/views/leading';
import { weigh } from '$lib/reasoning';
import { toTreeModel } from '$lib/investigation/views/tree-model';
import { buildReport } from '$lib/report/report';
import { scalesOf } from '../scales';
import { ALL, heronReport } from './heron';
import { Case } from '../investigation/anomaly-case';

describe('how strongly evidence speaks, how probable a cause is, how good the basis is', () => {
	it('are told apart by the check itself', () => {
		expect(scalesOf('It is very likely.')).toEqual(['probability']);
		expect(scalesOf('moderate support; likely, with low confidence')).toHaveLength(3);
		expect(scalesOf('A strong tether.')).toEqual([]);
	});
	it('never share a sentence of the report that the tool wrote', () => {
		// What a person typed is theirs: it is quoted or stands in a cell; sentences of ours are checked.
		const { markdown } = buildReport(heronReport(ALL));
		const sentences = markdown.split(/\n+|\||(?<=[.:?!])\s/).filter((sentence) => !sentence.startsWith('>'));
		expect(sentences.length).toBeGreaterThan(100);
		for (const sentence of sentences) expect(scalesOf(sentence).length, sentence).toBeLessThan(2);
		expect(sentences.some((sentence) => scalesOf(sentence).length === 1)).toBe(true);
	});
	it('nor one about what leads', () => {
		const c = new Case();
		const top = c.state();
		for (const id of ['joint', 'cord', 'load']) c.add(id, top);
		c.find('scuff', { joint: 0.9 }, { state: 'present' });
		const { events } = weigh(toTreeModel(c.file, 'a1').model);
		const sentences = leadingSentences(leadOf(c.file.events, events));
		expect(sentences.length).toBeGreaterThan(1);
		expect(sentences.some((sentence) => scalesOf(sentence).includes('probability'))).toBe(true);
		for (const sentence of sentences) expect(scalesOf(sentence).length, sentence).toBeLessThan(2);
		// A term such as 'roughly even chance' stands after a colon, where every one of the seven reads well.
		expect(sentences[0]).toMatch(/given everything: [a-z ]+, at \d+\u202f%/);
	});
});
