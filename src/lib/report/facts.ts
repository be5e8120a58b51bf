import { partsAccount } from '$lib/investigation/views/parts';
import { apart } from '$lib/investigation/views/positions';
import { timeline } from '$lib/investigation/views/timeline';
import { formatNumber, formatSi } from '$lib/quantity/format';
import { byNumber, type Context, localMoment } from './context';
import { blocks, count, facts, insert, list, literal, table } from './text';
import * as words from './words';

/** Part 1: what flew, what was found, seen and measured. Nothing here says why. */
export function factualInformation(c: Context): { title: string; body: string }[] {
	return [
		{ title: 'The flight', body: flight(c) },
		{ title: 'Make safe', body: makeSafe(c) },
		{ title: 'Parts, and what came back of them', body: parts(c) },
		{ title: 'Site, and who was told', body: site(c) },
		{ title: 'Weather', body: weather(c) },
		{ title: 'Expected and observed', body: expectedAndObserved(c) },
		{ title: 'Timeline', body: timelineTable(c) },
		{ title: 'Evidence', body: evidence(c) },
		{ title: 'Ground', body: ground(c) }
	];
}

function flight(c: Context): string {
	const about = c.file.about['main'];
	if (!about) return 'Not recorded.';
	const direction = about.launchDirection;
	return blocks(
		c.room('record'),
		facts([
			['Vehicle', c.line(about.vehicleName)],
			['Build', c.line(about.buildName)],
			['Flown', literal(localMoment(about.flownAt)) || 'not recorded'],
			[
				'Launch direction',
				direction &&
					`${formatNumber(direction.bearingDeg, 0)}° ${direction.reference}, ${formatNumber(direction.elevationDeg, 0)}° above the horizon`
			]
		]),
		about.padChanges && 'Changed on the pad:',
		c.block(about.padChanges),
		c.block(about.note)
	);
}

function makeSafe(c: Context): string {
	const hazards = Object.values(c.file.hazards);
	if (hazards.length === 0) return 'No charge, igniter, cell, pressurised or hot part was listed.';
	const open = hazards.filter((hazard) => hazard.state !== 'safe');
	return blocks(
		c.room('record#make-safe'),
		open.length > 0 &&
			`**${count(open.length, 'item')} not known to be safe.** Treat each as live. The range’s safety code and qualified people decide what may be touched.`,
		table(
			['What', 'Stands', 'By', 'When', 'Note'],
			hazards.map((hazard) => [
				c.line(hazard.what),
				words.HAZARD_STATE[hazard.state],
				c.line(hazard.by),
				literal(localMoment(hazard.at)),
				[hazard.evidence && c.cite(hazard.evidence), c.line(hazard.note)].filter(Boolean).join(' ')
			])
		),
		!c.file.about['main']?.allListed && 'Nobody has said that everything that can hurt is listed.'
	);
}

function parts(c: Context): string {
	const { rows, counts } = partsAccount(c.file);
	if (rows.length === 0) return 'No parts list was recorded.';
	const said = (Object.keys(counts) as (keyof typeof counts)[])
		.filter((outcome) => counts[outcome] > 0)
		.map((outcome) => `${counts[outcome]} ${words.PART_OUTCOME[outcome]}`);
	return blocks(
		c.room('record#parts'),
		`${count(rows.length, 'part')}: ${said.join(', ')}.`,
		table(
			['Part', '>Mass', '>Uses', 'Came back', 'Next', 'Evidence'],
			rows.map(({ part, outcome, items }) => [
				c.line(part.group ? `${part.group}: ${part.name}` : part.name),
				part.mass ? c.quantity(part.mass) : '',
				part.uses === null ? 'not counted' : String(part.uses),
				words.PART_OUTCOME[outcome],
				part.next ? words.PART_NEXT[part.next] : '',
				c.cites(items.map((item) => item.id))
			])
		),
		'Uses count flights or firings and include this one.'
	);
}

function site(c: Context): string {
	const at = c.file.site['main'];
	if (!at) return 'Not recorded.';
	const { positions: places } = c.input.shown;
	const pad = at.pad && at.pad.kind !== 'bearing' ? at.pad : null;
	return blocks(
		c.room('record#site'),
		facts([
			['Site', places ? c.line(at.name) : 'left out with the positions'],
			['Pad', !pad ? 'not recorded' : places ? degrees(pad) : 'recorded; left out with the positions'],
			['Elevation', c.quantity(at.elevation)],
			[
				'Declination',
				at.declinationDeg === null
					? 'not recorded'
					: `${formatNumber(Math.abs(at.declinationDeg), 1)}° ${at.declinationDeg < 0 ? 'west' : 'east'}`
			],
			['Owner’s leave', words.ANSWER[at.ownersLeave]],
			['Power lines', words.ANSWER[at.powerLines]],
			['Water', words.ANSWER[at.water]],
			['Fire risk', words.ANSWER[at.fireRisk]]
		]),
		c.block(at.accessNote),
		at.told.length === 0
			? 'Nobody was recorded as told.'
			: table(
					['Told', 'Who', 'When', 'Note'],
					at.told.map((told) => [
						words.TOLD[told.who],
						c.line(told.name),
						literal(localMoment(told.when)),
						c.line(told.note)
					])
				)
	);
}

const degrees = ({ latitudeDeg, longitudeDeg }: { latitudeDeg: number; longitudeDeg: number }) =>
	`${Math.abs(latitudeDeg).toFixed(5)}° ${latitudeDeg < 0 ? 'S' : 'N'}, ${Math.abs(longitudeDeg).toFixed(5)}° ${longitudeDeg < 0 ? 'W' : 'E'}`;

function weather(c: Context): string {
	const day = c.file.weather['main'];
	if (!day) return 'Not recorded.';
	const above = day.heightsAre === 'abovePad' ? 'above the pad' : 'above sea level';
	return blocks(
		c.room('record#weather'),
		facts([
			['Temperature at the ground', c.quantity(day.surfaceTemperature)],
			[
				'Pressure',
				day.surfacePressure
					? `${c.quantity(day.surfacePressure)}, ${day.pressureIs === 'atSite' ? 'at the site' : 'reduced to sea level'}`
					: 'not measured'
			],
			['Source', c.line(day.source)]
		]),
		day.wind.length === 0
			? 'No wind was recorded.'
			: table(
					[`>Height ${above}`, `>From, ${day.fromReference} north`, '>Speed', '>Temperature'],
					day.wind.map((level) => [
						c.quantity(level.height),
						`${formatNumber(level.fromDeg, 0)}°`,
						c.quantity(level.speed),
						level.temperature ? c.quantity(level.temperature) : ''
					])
				),
		c.block(day.note)
	);
}

function expectedAndObserved(c: Context): string {
	const expected = Object.values(c.file.expected);
	const anomalies = byNumber(c.file.anomalies);
	return blocks(
		c.room('record#expected'),
		expected.length === 0
			? 'No expected values were recorded before the flight.'
			: table(
					['Expected', '>Value', 'From'],
					expected.map((row) => [
						row.what === 'other' ? c.line(row.label) || 'other' : words.EXPECTED[row.what],
						c.quantity(row.value),
						c.line(row.source)
					])
				),
		anomalies.length > 0 &&
			table(
				['Departure', 'Expected', 'Observed', 'When', 'Consequence'],
				anomalies.map(([, a]) => [
					`[A${a.number}](#a${a.number}) ${c.line(a.title)}`,
					c.line(a.expected),
					c.line(a.observed),
					c.line(a.when) || words.PHASE[a.phase],
					c.line(a.consequence)
				])
			)
	);
}

function timelineTable(c: Context): string {
	const rows = timeline(c.file);
	if (rows.length === 0) return 'No timeline was recorded.';
	return blocks(
		c.room('record#timeline'),
		table(
			['>From launch', 'What', 'Seen by', 'Sure', 'Basis', 'Evidence'],
			rows.map(({ entry, sinceLaunchS, sigmaS, tiedAbove }) => [
				sinceLaunchS === null
					? 'not known'
					: `${tiedAbove ? '≈ ' : ''}${formatNumber(sinceLaunchS, 1)} s${sigmaS ? ` ± ${formatNumber(sigmaS, 1)} s` : ''}`,
				c.line(entry.what),
				c.line(entry.seenBy),
				entry.sure,
				entry.basis,
				c.cites(entry.evidence)
			])
		),
		rows.some((row) => row.tiedAbove) &&
			'≈ marks a moment whose order against the row above can’t be told from the clocks.'
	);
}

function evidence(c: Context): string {
	const items = byNumber(c.file.evidence);
	if (items.length === 0) return 'No evidence was recorded.';
	return blocks(
		`${count(items.length, 'item')}; appendix A has each of them in full, with its files.`,
		table(
			['No.', 'What', 'Kind', 'By', 'When', 'From the pad', 'State'],
			items.map(([id, item]) => [
				c.cite(id),
				(item.withdrawn ? 'withdrawn: ' : '') + c.line(item.title),
				words.EVIDENCE_KIND[item.kind],
				c.line(item.by),
				moment(c, item.at),
				fromPad(c, id),
				words.EVIDENCE_STATE[item.state]
			])
		)
	);
}

/** When, as it was read on its clock. */
export function moment(c: Context, at: { kind: string } | null): string {
	if (!at) return '';
	const when = at as { kind: 'clock'; reading: string } | { kind: 'sinceLaunch'; after: never };
	return when.kind === 'clock'
		? literal(localMoment(when.reading))
		: `${c.quantity(when.after)} after launch`;
}

export function fromPad(c: Context, id: string): string {
	const from = c.placed.has(id) ? apart(c.file, 'pad', id, c.placed) : null;
	if (!from) return '';
	return `${formatSi(from.distanceM, 'length', { unit: 'm', figures: 3 })}, ${formatNumber(from.bearingDeg, 0)}° true`;
}

function ground(c: Context): string {
	const absences = byNumber(c.file.evidence).flatMap(([id, item]) =>
		item.kind === 'absence' && !item.withdrawn
			? [
					`${c.cite(id)} ${c.line(item.lookedFor)}: not found; ${words.SEARCH[item.howThoroughly]}${item.detection === null ? '' : `, would have been seen in ${Math.round(100 * item.detection)} of 100 cases`}.`
				]
			: []
	);
	return blocks(
		c.room('ground'),
		c.input.figures.plan ? insert('figure:plan') : 'No plan: the pad or the pieces have no position.',
		c.input.figures.plan && 'Seen from above, true north up; positions on WGS 84.',
		absences.length > 0 && 'Looked for and not found:',
		absences.length > 0 && list(absences)
	);
}
