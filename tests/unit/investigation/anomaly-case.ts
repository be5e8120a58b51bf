import { applyChanges, emptyInvestigation, type Investigation } from '$lib/investigation/case';
import { operate } from '$lib/investigation/operations';
import type { Problem } from '$lib/investigation/outcome';

let made = 0;
const context = () => ({
	who: 'Ilse',
	now: '2026-05-18T09:00:00.000Z',
	newId: () => `new${String(++made).padStart(6, '0')}`
});

/** A case on which one operation after another is done; a refusal is an error unless it is asked for. */
export class Case {
	file: Investigation = emptyInvestigation();

	do(name: string, args: unknown): string {
		const did = operate(this.file, name, args, context());
		if (!did.ok) throw new Error(did.problems.map((p) => `${p.field}: ${p.message}`).join('; '));
		this.file = applyChanges(this.file, did.value);
		return did.value[0]?.id ?? '';
	}

	/** True if done; false if refused, and then nothing has changed. */
	attempt(name: string, args: unknown): boolean {
		const did = operate(this.file, name, args, context());
		if (did.ok) this.file = applyChanges(this.file, did.value);
		return did.ok;
	}

	refusal(name: string, args: unknown): Problem {
		const did = operate(this.file, name, args, context());
		if (did.ok) throw new Error(`${name} was not refused`);
		return did.problems[0]!;
	}

	/** States a departure; the anomaly is `id`, its top event's identity is answered. */
	state(id = 'a1'): string {
		this.do('anomaly.state', {
			id,
			record: {
				title: 'The bulkhead left the bay tube',
				expected: 'bulkhead in place',
				observed: 'bulkhead 2 m from the tube',
				when: 'between apogee and landing',
				consequence: '',
				phase: 'descent',
				firstImpression: ''
			}
		});
		return this.file.anomalies[id]!.top;
	}

	/** The same with all that the rules of construction ask of a top event. */
	stated(id = 'a1'): string {
		const top = this.state(id);
		const record = { subject: 'Bulkhead', failedState: 'out of the tube', boundary: ['bay and lines'] };
		this.do('anomaly.change', { id, record });
		return top;
	}

	/** Adds an event of that identity. */
	add(id: string, under: string, title = `${id} lets go`, kind = 'basic'): string {
		return this.do('event.add', { id, under, kind, title });
	}

	event = (id: string) => this.file.events[id]!;
	inputs = (id: string) => this.file.events[id]!.gate!.inputs;

	/** A finding with these links; answers its identity. */
	find(id: string, links: Record<string, number> = {}, more: Record<string, unknown> = {}): string {
		this.do('finding.add', {
			id,
			anomaly: 'a1',
			record: {
				statement: `sign ${id}`,
				state: 'notExamined',
				baseRate: 0.02,
				links: Object.entries(links).map(([event, p]) => ({ event, negated: false, p })),
				residualLink: null,
				origin: null,
				sameAs: null,
				evidence: [],
				costMinutes: null,
				destructive: false,
				note: '',
				...more
			}
		});
		return id;
	}

	/** Puts a record in place that another room would have made. */
	put(collection: keyof Investigation, id: string, record: unknown) {
		this.file = applyChanges(this.file, [{ collection, id, before: null, after: record }]);
	}
}
