import type { Investigation, InvestigationCollection } from './case';

type Reference = { collection: InvestigationCollection; id: string };
type Records = { [C in InvestigationCollection]: Investigation[C][string] };

const to = (collection: InvestigationCollection, ...ids: (string | null | undefined)[]): Reference[] =>
	ids.flatMap((id) => (id == null ? [] : [{ collection, id }]));

const fromPosition = (position: { kind: string } | null): Reference[] => {
	if (!position) return [];
	const place = position as { kind: string; attachment?: string; from?: string };
	if (place.kind === 'photo') return to('attachments', place.attachment);
	return place.kind === 'bearing' && place.from !== 'pad' ? to('evidence', place.from) : [];
};

const fromMoment = (moment: { kind: string } | null): Reference[] =>
	moment?.kind === 'clock' ? to('clocks', (moment as { clock?: string }).clock) : [];

/** What each kind of record names; every one of them must exist. Citations may name records of several kinds. */
const REFERENCES: { [C in InvestigationCollection]?: (record: Records[C]) => Reference[] } = {
	site: (site) => fromPosition(site.pad),
	weather: (weather) => to('attachments', weather.sounding),
	hazards: (hazard) => to('evidence', hazard.evidence),
	timeline: (entry) => [...fromMoment(entry.at), ...to('evidence', ...entry.evidence)],
	evidence: (item) => [
		...fromPosition(item.position),
		...fromMoment(item.at),
		...to('attachments', ...item.attachments),
		...to('parts', ...item.parts),
		...(item.kind === 'photo' ? to('evidence', item.shows) : []),
		...(item.kind === 'test' ? to('changes', item.proves) : [])
	],
	predictions: (prediction) => to('evidence', prediction.test),
	conflicts: (conflict) => to('evidence', ...conflict.between),
	anomalies: (anomaly) => to('events', anomaly.top),
	events: (event) => [
		...to('anomalies', event.anomaly),
		...to('events', ...(event.gate?.inputs ?? []), event.gate?.condition)
	],
	exclusions: (exclusion) => [...to('anomalies', exclusion.anomaly), ...to('events', ...exclusion.events)],
	commonCauses: (group) => [...to('anomalies', group.anomaly), ...to('events', ...group.events)],
	settings: (setting) => [
		...to('anomalies', setting.anomaly),
		...to('events', ...setting.switches.map(({ event }) => event))
	],
	findings: (finding) => [
		...to('anomalies', finding.anomaly),
		...to('events', ...finding.links.map((link) => link.event)),
		...to('origins', finding.origin),
		...to('findings', finding.sameAs),
		...to('evidence', ...finding.evidence)
	],
	calculations: (run) => [
		...to('anomalies', run.anomaly),
		...to('events', ...(run.likelihood?.scenarios ?? []).map((scenario) => scenario.event))
	],
	failureModes: (mode) => to('parts', mode.part),
	observations: (observation) => to('evidence', ...observation.evidence),
	changes: (change) => [...to('anomalies', change.anomaly), ...to('events', change.answers)]
};

/** Records that this one names. */
export function referencesOf(collection: InvestigationCollection, record: unknown): Reference[] {
	return REFERENCES[collection]?.(record as never) ?? [];
}
