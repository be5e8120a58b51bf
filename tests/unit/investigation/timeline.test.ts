import { describe, expect, it } from 'vitest';
import { timeline } from '$lib/investigation/views/timeline';
import { Workbench } from './workbench';

const clock = (name: string, zoneMinutes: string | number, ahead: string) => ({
	name,
	kind: 'phone',
	zoneMinutes,
	ahead,
	note: ''
});
const moment = (what: string, at: object, plusMinus = '') => ({
	what,
	at,
	plusMinus,
	seenBy: 'Ada',
	sure: 'certain',
	basis: 'observed',
	evidence: [],
	note: ''
});

/** Launch at 14:02:00 in a zone 2 h east: 12:02:00 UTC. */
function bench(moments: (add: (what: string, at: object, plusMinus?: string) => void, b: Workbench) => void) {
	const b = new Workbench();
	moments((what, at, plusMinus) => b.do('timeline.add', { record: moment(what, at, plusMinus) }), b);
	const rows = timeline(b.file);
	return { b, rows, words: rows.map((r) => r.entry.what) };
}

describe('one clock for all', () => {
	it('zone and offset of each clock are taken out', () => {
		const { rows, words } = bench((add, b) => {
			const [phone] = b.do('clock.add', { record: clock('phone', '+02:00', '0 ± 1 s') });
			const [camera] = b.do('clock.add', { record: clock('camera', 'UTC', '75 ± 2 s') });
			add('landed', { kind: 'clock', clock: phone, reading: '2031-05-17 14:03:30' });
			// 12:03:50 on a camera that runs 75 s ahead: 12:02:35 UTC, 35 s after launch.
			add('opened', { kind: 'clock', clock: camera, reading: '2031-05-17 12:03:50' });
			add('left the rail', { kind: 'sinceLaunch', after: '0.4 s' });
		});
		expect(words).toEqual(['left the rail', 'opened', 'landed']);
		expect(rows[1]?.sinceLaunchS).toBeCloseTo(35, 9);
		expect(rows[2]?.sinceLaunchS).toBeCloseTo(90, 9);
	});

	it('what was never compared has no order against other clocks, and says why', () => {
		const { rows } = bench((add, b) => {
			const [memory] = b.do('clock.add', { record: clock('memory', '+02:00', '') });
			add('left the rail', { kind: 'sinceLaunch', after: '0 s' });
			add('heard a bang', { kind: 'clock', clock: memory, reading: '2031-05-17 14:30:00' });
		});
		expect(rows[1]).toMatchObject({ sigmaS: null, tiedAbove: true, unordered: [rows[0]!.id] });
		expect(rows[1]?.remark).toContain('never compared');
	});
});

describe('[R5] pairs closer than their uncertainty have no order', () => {
	// Two clocks with 3 s and 4 s of their own: 5 s together, so 1.96 × 5 = 9.8 s decides (hand-worked).
	it.each([
		['09.7', true],
		['09.9', false]
	])('%s s apart: unordered %s', (second, tied) => {
		const { rows } = bench((add, b) => {
			const [one] = b.do('clock.add', { record: clock('one', '+02:00', '0 ± 3 s') });
			const [two] = b.do('clock.add', { record: clock('two', '+02:00', '0 ± 4 s') });
			add('a', { kind: 'clock', clock: one, reading: '2031-05-17 14:05:00.000' });
			add('b', { kind: 'clock', clock: two, reading: `2031-05-17 14:05:${second}00` });
		});
		expect(rows[1]?.tiedAbove).toBe(tied);
	});

	it('a shared clock cancels: the same two readings on one poor clock are in order', () => {
		const { rows } = bench((add, b) => {
			const [one] = b.do('clock.add', { record: clock('one', '+02:00', '0 ± 300 s') });
			add('a', { kind: 'clock', clock: one, reading: '2031-05-17 14:05:00' });
			add('b', { kind: 'clock', clock: one, reading: '2031-05-17 14:05:05' });
		});
		expect(rows[1]?.unordered).toEqual([]);
		expect(rows[1]?.sigmaS).toBeGreaterThan(300);
	});

	it('readings to the minute are any second of it: neighbours are unordered, three minutes apart are not', () => {
		const { rows } = bench((add, b) => {
			const [one] = b.do('clock.add', { record: clock('one', '+02:00', '0 s') });
			add('a', { kind: 'clock', clock: one, reading: '2031-05-17 14:05' });
			add('b', { kind: 'clock', clock: one, reading: '2031-05-17 14:05' });
			add('c', { kind: 'clock', clock: one, reading: '2031-05-17 14:08' });
		});
		expect(rows.map((r) => r.tiedAbove)).toEqual([false, true, false]);
	});
});

it('without a time of launch, moments after launch keep their own order and stand last', () => {
	const b = new Workbench();
	b.do('about.save', { record: { ...b.file.about['main'], flownAt: '2031-05-17' } });
	const [one] = b.do('clock.add', { record: clock('one', '+02:00', '0 s') });
	b.do('timeline.add', { record: moment('apogee', { kind: 'sinceLaunch', after: '12 s' }) });
	b.do('timeline.add', { record: moment('burnout', { kind: 'sinceLaunch', after: '2 s' }) });
	b.do('timeline.add', {
		record: moment('landed', { kind: 'clock', clock: one, reading: '2031-05-17 14:09' })
	});
	const rows = timeline(b.file);
	expect(rows.map((r) => r.entry.what)).toEqual(['landed', 'burnout', 'apogee']);
	expect(rows.map((r) => r.tiedAbove)).toEqual([false, true, false]);
	expect(rows[1]?.remark).toContain('launch is not recorded');
});

it('a moment names a clock of the list', () => {
	const b = new Workbench();
	const record = moment('x', { kind: 'clock', clock: 'none', reading: '2031-05-17 14:09' });
	expect(b.refuse('timeline.add', { record }).field).toBe('at.clock');
	const odd = moment('x', { kind: 'clock', clock: 'none', reading: 'noon' });
	expect(b.refuse('timeline.add', { record: odd }).field).toBe('record.at.reading');
});
