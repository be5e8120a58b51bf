import { expect, test } from 'vitest';
import type { AnomalyDesk } from '$lib/components/anomaly/desk.svelte';
import { nextLooks } from '$lib/components/weighing/next-looks';

const observation = (id: string, bits: number) => ({ id, bits, probabilityPresent: 0.5 });
const sign = (state: string, evidence: string[] = [], costMinutes: number | null = null) => ({
	state,
	evidence,
	costMinutes
});
const pullTest = (result: string, withdrawn: object | null = null) => ({
	kind: 'test',
	number: 4,
	title: 'Pull test',
	result,
	value: null,
	withdrawn
});

test('signs that nobody has looked at, the most telling first, each with the open tests that it cites', () => {
	const desk = {
		weigher: {
			deeper: {
				information: {
					observations: ['seen', 'little', 'much', 'gone'].map((id, i) => observation(id, i / 10))
				}
			}
		},
		file: {
			findings: {
				seen: sign('present'),
				little: sign('notExamined', ['done', 'taken back'], 30),
				much: sign('notExamined', ['open', 'photo'])
			},
			evidence: {
				open: pullTest(''),
				done: pullTest('parted at 40 N'),
				'taken back': pullTest('', {}),
				photo: { kind: 'photo' }
			}
		}
	} as unknown as AnomalyDesk;
	expect(nextLooks(desk)).toMatchObject([
		{ id: 'much', tests: [{ id: 'open', number: 4, title: 'Pull test' }], cost: null, perHour: null },
		{ id: 'little', tests: [], cost: 30, perHour: 0.2 }
	]);
});
