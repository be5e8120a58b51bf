import type { OpenInvestigation } from '../case/open-case.svelte';
import { typedText } from '../ui/quantity-text';
import type { Investigation } from '$lib/investigation/case';
import type { Problem } from '$lib/investigation/outcome';
import type { Moment, Position } from '$lib/investigation/schema/places-and-times';

/** A position as it stands in a form: everything as typed. */
export interface PositionDraft {
	kind: 'none' | 'typed' | 'photo' | 'bearing';
	typed: string;
	radius: string;
	level: '0.68' | '0.95';
	attachment: string;
	from: string;
	distance: string;
	bearing: string;
	reference: 'true' | 'magnetic';
	bearingPlusMinus: string;
}

export function positionDraft(position: Position | null): PositionDraft {
	const draft: PositionDraft = {
		kind: position?.kind ?? 'none',
		typed: '',
		radius: '',
		level: '0.95',
		attachment: '',
		from: 'pad',
		distance: '',
		bearing: '',
		reference: 'magnetic',
		bearingPlusMinus: ''
	};
	if (!position) return draft;
	if (position.kind === 'bearing') {
		draft.from = position.from;
		draft.distance = typedText(position.distance);
		draft.bearing = String(position.bearingDeg);
		draft.reference = position.reference;
		draft.bearingPlusMinus =
			position.bearingPlusMinusDeg === null ? '' : String(position.bearingPlusMinusDeg);
		return draft;
	}
	draft.radius = typedText(position.circle.radius);
	draft.level = position.circle.level === 0.68 ? '0.68' : '0.95';
	if (position.kind === 'typed') draft.typed = position.typed;
	else draft.attachment = position.attachment;
	return draft;
}

/** What is sent for it; null is 'no place'. */
export function positionSent(draft: PositionDraft, file: Investigation): unknown {
	const circle = { radius: draft.radius, level: Number(draft.level) };
	switch (draft.kind) {
		case 'none':
			return null;
		case 'typed':
			return { kind: 'typed', typed: draft.typed, circle };
		case 'photo': {
			const taken = file.attachments[draft.attachment]?.taken;
			return {
				kind: 'photo',
				attachment: draft.attachment,
				latitudeDeg: taken?.latitude,
				longitudeDeg: taken?.longitude,
				circle
			};
		}
		case 'bearing':
			return {
				kind: 'bearing',
				from: draft.from,
				distance: draft.distance,
				bearingDeg: draft.bearing,
				reference: draft.reference,
				bearingPlusMinusDeg: draft.bearingPlusMinus.trim() === '' ? null : draft.bearingPlusMinus
			};
	}
}

export const NEW_CLOCK = 'new';

/** A moment as it stands in a form, and the clock that is listed along with it where there is none yet. */
export interface MomentDraft {
	kind: 'none' | 'clock' | 'sinceLaunch';
	clock: string;
	reading: string;
	after: string;
	clockName: string;
	clockZone: string;
}

/** @param at  what is stored; a kind alone, where only the way of saying it is known yet */
export function momentDraft(
	at: Moment | { kind: 'sinceLaunch'; after: null } | null,
	file: Investigation
): MomentDraft {
	return {
		kind: at?.kind ?? 'none',
		clock: at?.kind === 'clock' ? at.clock : (Object.keys(file.clocks)[0] ?? NEW_CLOCK),
		reading: at?.kind === 'clock' ? at.reading.replace('T', ' ') : '',
		after: at?.kind === 'sinceLaunch' ? typedText(at.after) : '',
		clockName: '',
		clockZone: ''
	};
}

/** '14:20' on the day of the flight is '2031-05-17 14:20'; anything else stays as it is. */
export function withDate(reading: string, file: Investigation): string {
	const day = file.about['main']?.flownAt.slice(0, 10);
	const plain = reading.trim();
	return day && /^\d{1,2}:\d{2}(:\d{2}(\.\d+)?)?$/.test(plain) ? `${day} ${plain.padStart(5, '0')}` : plain;
}

/** The moment to send. A clock that is not in the list yet is added first, under the name given here. */
export async function momentSent(
	draft: MomentDraft,
	inv: OpenInvestigation
): Promise<{ ok: true; at: unknown } | { ok: false; problems: Problem[] }> {
	if (draft.kind === 'none') return { ok: true, at: null };
	if (draft.kind === 'sinceLaunch') return { ok: true, at: { kind: 'sinceLaunch', after: draft.after } };
	if (draft.clock === NEW_CLOCK) {
		const added = await inv.do('clock.add', {
			record: { name: draft.clockName, kind: 'other', zoneMinutes: draft.clockZone, ahead: '', note: '' }
		});
		if (!added.ok)
			return {
				ok: false,
				problems: added.problems.map((p) => ({ ...p, field: p.field.replace('record.', 'at.clock.') }))
			};
		draft.clock = added.ids[0]!;
	}
	return {
		ok: true,
		at: { kind: 'clock', clock: draft.clock, reading: withDate(draft.reading, inv.file) }
	};
}
