import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { attachmentStrength } from '$lib/calculations/attachment-strength/attachment-strength';
import { runCalculation, type Request } from '$lib/calculations/run';
import { plateDeflectionM, plateStrengthN } from '$lib/physics/structure';
import { drawFigure } from '$lib/report/figure-drawing';
import { normalCdf } from '$lib/probability/special';

type Link = Record<string, string>;
const attempt = (links: Link[], inputs: Record<string, string> = {}, rest: Partial<Request> = {}) =>
	runCalculation(attachmentStrength, { inputs: { load: '900 N', links, ...inputs }, samples: 1000, ...rest });
function run(...given: Parameters<typeof attempt>) {
	const r = attempt(...given);
	if (!r.ok) throw new Error(`${r.error.path}: ${r.error.message}`);
	return r.value;
}
const warnings = (link: Link, inputs: Record<string, string> = {}) =>
	run([link], inputs)
		.warnings.join(' ')
		.replace(/\u202f/g, ' ');

const eye = { name: 'Eye bolt', kind: 'bolt', thread: 'M6' };
const nut = { kind: 'thread', thread: 'M6', engagement: '5 mm', shearStrength: '240 MPa' };
const washer = { kind: 'washer', washer: '20 mm', thickness: '6 mm', shearStrength: '6 MPa' };
const bulkhead = {
	name: 'Bulkhead',
	kind: 'plate',
	radius: '49 mm',
	loadRadius: '10 mm',
	thickness: '6 mm',
	bendingStrength: '35 MPa'
};
const rim = { kind: 'bond', width: '308 mm', overlap: '6 mm', lapStrength: '10 MPa' };
const bay = { kind: 'printed', area: '300 mm²' };
const webbing = { kind: 'line', strength: '8 kN' };

describe('the path', () => {
	it('is as strong as its weakest link; the margin is on the load with its factors (hand-worked)', () => {
		const { outputs, statements, figure } = run([eye, { name: 'Swivel', strength: '1400 N' }]);
		expect(outputs['pathStrength']!.nominal).toBeCloseTo(1400, 9);
		expect(outputs['margin of Swivel']!.nominal).toBeCloseTo(1400 / (1.4 * 900) - 1, 12);
		expect(outputs['strength of Eye bolt']!.nominal! / 1000).toBeCloseTo(8.05, 2);
		expect(statements[0]).toMatch(
			/^Swivel is the weakest link: about 1400\sN against a load of 900\sN, which with its factors asks for 1260\sN\.$/
		);
		expect(run([{ strength: '905 N' }]).statements[0]).toMatch(
			/905\sN against a load of 900\sN; .*asks for 1260\sN, so it is too weak\.$/
		);
		expect(figure!.layers.find((l) => l.kind === 'chain')!.label).toBe('load path');
	});
	it('P(load > strength) is that of two normals (cross-check with the closed form)', () => {
		const { series } = run([{ strength: '1000 ± 100 N' }], { load: '900 ± 80 N' }, { samples: 20_000 });
		const exact = normalCdf((900 - 1000) / Math.hypot(100, 80));
		expect(Math.abs((series as { any: number }).any - exact)).toBeLessThan(
			4 * Math.sqrt((exact * (1 - exact)) / 20_000)
		);
	});
	it('a plate lies between its two edges, and both are shown', () => {
		const o = run([{ ...bulkhead, modulus: '6 GPa' }]).outputs;
		const [free, held] = [o['simplySupported of Bulkhead']!.nominal!, o['clamped of Bulkhead']!.nominal!];
		expect(o['strength of Bulkhead']!.nominal).toBeCloseTo((free + held) / 2, 9);
		expect(held).toBeGreaterThan(free);
		expect(o['sagSimplySupported of Bulkhead']!.nominal).toBeGreaterThan(
			o['sagClamped of Bulkhead']!.nominal!
		);
	});
	it('two legs bear twice one; a knot leaves its share; a crushed sheet counts where it is weaker', () => {
		const strength = (link: Link) => run([{ name: 'A', ...link }]).outputs['strength of A']!.nominal!;
		expect(strength({ ...eye, name: 'A', count: '2' })).toBeCloseTo(2 * strength({ ...eye, name: 'A' }), 6);
		expect(strength({ ...webbing, keeps: '0.4' })).toBeCloseTo(3200, 9);
		expect(strength({ ...washer, hole: '6 mm', bearingStrength: '1 MPa' })).toBeCloseTo(
			(Math.PI / 4) * (400 - 36),
			6
		);
	});
});

describe('a warm joint', () => {
	const glued = [
		{ ...rim, name: 'Glue', lapStrength: '10 MPa' },
		{ name: 'Swivel', strength: '1400 N' }
	];
	it('has no margin, nor has its path, and the answer says what to do', () => {
		const { outputs, statements, figure, warnings: said } = run(glued, { temperature: '200 °C' });
		expect(Object.keys(outputs).sort()).toEqual(['margin of Swivel', 'strength of Swivel']);
		expect(statements.join(' ').replace(/\u202f/g, ' ')).toMatch(
			/^Swivel is the weakest link of those whose strength is known.*more than some of these bears.*Glue: its strength at 200 °C is not known: type the strength measured there/
		);
		expect(said.join(' ')).toMatch(/Glue: its strength at 200/);
		expect(figure!.title).toMatch(/Glue not known when so warm/);
		const chain = figure!.layers.find((l) => l.kind === 'chain')!;
		expect(chain.kind === 'chain' && chain.links).toMatchObject([
			{ label: 'Glue', unknown: true },
			{ label: 'Swivel', low: expect.any(Number) as number }
		]);
		// It stays a link of the drawn path, and is never called the weakest.
		const drawn = drawFigure(figure!)
			.match(/<text[^>]*>[^<]*/g)!
			.map((text) => text.replace(/<[^>]*>/, ''));
		expect(drawn).toContain('Glue');
		expect(drawn).toContain('not known');
		expect(drawn.indexOf('weakest link')).toBeGreaterThan(drawn.indexOf('Swivel'));
	});
	it.each([
		[rim, '59 °C', true],
		[rim, '61 °C', false],
		[bay, '49 °C', true],
		[bay, '51 °C', false],
		[{ ...nut, female: 'printed' }, '51 °C', false],
		[{ ...bulkhead, material: 'printed' }, '51 °C', false],
		[nut, '200 °C', true],
		[{ ...rim, holdsAt: 'here' }, '200 °C', true]
	])('%j at %s: strength given %s', (link, temperature, given) => {
		const { outputs } = run([{ ...link, name: 'A' }, glued[1]!], { temperature });
		expect('margin of A' in outputs).toBe(given);
		expect('pathStrength' in outputs).toBe(given);
	});
	it('whose temperature is uncertain leaves out what crosses the limit, and says so', () => {
		const { outputs, warnings: said } = run(glued, { temperature: '55 ± 5 °C' });
		expect('margin of Glue' in outputs).toBe(true);
		expect(said.join(' ')).toMatch(/left out: they cross a limit/);
	});
	it.each<[string, Link[], Record<string, string>, Record<string, string> | undefined, RegExp]>([
		['alone', [glued[0]!], { temperature: '70 °C' }, undefined, /Glue: its strength at 70.*is not known/],
		['as evidence', glued, { temperature: '70 °C' }, { happened: 'held' }, /cannot be compared: Glue/],
		[
			'measured at a temperature not given',
			[{ ...rim, holdsAt: 'here' }],
			{},
			undefined,
			/give the temperature of the warmest joint/
		]
	])('refuses it %s', (_, links, inputs, observed, message) => {
		const r = attempt(links, inputs, observed ? { observed } : {});
		expect(r.ok ? 'accepted' : r.error.message).toMatch(message);
	});
});

describe('as evidence: which link failed first', () => {
	const links = [
		{ name: 'Strong', strength: '2000 ± 50 N' },
		{ name: 'Weak', strength: '1000 ± 50 N' }
	];
	const scenarios = [
		{ id: 'opening', from: '200 N', to: '500 N' },
		{ id: 'impact', from: '1500 N', to: '9000 N' },
		'none-of-these'
	];
	const densities = (observed: Record<string, string>) =>
		run(links, {}, { observed, scenarios }).likelihoods!.map((l) => l.density);
	it('the weak one failing speaks for the greater load, all holding for the smaller', () => {
		const [opening, impact, none] = densities({ happened: 'failed', failed: 'weak' }) as [
			number,
			number,
			number
		];
		expect(impact).toBeGreaterThan(0.97);
		expect(opening).toBeLessThan(0.01);
		expect(none).toBeCloseTo(1 / 3, 6);
		const held = densities({ happened: 'held' });
		expect(held[0]).toBeGreaterThan(0.97);
		expect(held[1]).toBeLessThan(0.01);
	});
	it('a strong link that failed before a weak one fits no load through the path', () => {
		const [opening, impact, none] = densities({ happened: 'failed', failed: 'Strong' }) as [
			number,
			number,
			number
		];
		expect(none).toBeGreaterThan(20 * Math.max(opening, impact));
	});
	it('says a scenario with its loads, and how it is distributed', () => {
		const [first] = run(links, {}, { observed: { happened: 'held' }, scenarios }).likelihoods!;
		expect(first!.label.replace(/\u202f/g, ' ')).toBe('Opening of the parachute, 200 N to 500 N');
		expect(first!.words).toMatch(/all links would hold in more than 99 of 100 such loads, as it happened/);
		expect(first!.distribution).toMatch(/equally probable by ratio/);
	});
	it('nothing looked at compares nothing', () => {
		expect(run(links, {}, { observed: {} }).likelihoods).toBeUndefined();
	});
});

describe('what a hand calculation gets wrong is a warning, or cannot be entered', () => {
	it.each<[string, Link, Record<string, string>, RegExp]>([
		['fewer than three threads', { ...nut, engagement: '2.5 mm' }, {}, /only 2\.5 threads are engaged/],
		['printed female thread', { ...nut, female: 'printed' }, {}, /printed or plastic thread creeps/],
		['tapped wood', { ...nut, female: 'wood' }, {}, /tapped in wood/],
		['chamfer, bottom tap, 0.6 UTS', nut, {}, /no threads on a chamfer.*end of a tap.*0\.6 of its tensile/],
		['bent eye', eye, {}, /a bent, unwelded eye straightens/],
		['shared load', { ...eye, count: '2' }, {}, /share the load evenly/],
		[
			'sag past half the thickness',
			{ ...bulkhead, thickness: '1.5 mm', modulus: '6 GPa' },
			{},
			/would sag .* more than half its thickness: the plate formula says nothing/
		],
		['sag not known', bulkhead, {}, /without its modulus the sag is not known/],
		[
			'real edge, hole at the middle',
			bulkhead,
			{},
			/between simply supported and clamped.*hole at its middle/
		],
		[
			'orthotropic plywood, rolling round the rim',
			bulkhead,
			{},
			/weaker across the grain.*rolling of its plies/
		],
		['a thick plate', { ...bulkhead, thickness: '15 mm' }, {}, /thicker than a quarter of its radius: shear/],
		['printed plate', { ...bulkhead, material: 'printed' }, {}, /layers are pulled apart/],
		[
			'through-thickness shear where plies roll',
			washer,
			{},
			/6\.0 MPa is a shear strength through the thickness.*3 to 5 times less/
		],
		['moisture, unknown hobby ply', washer, {}, /above 12 % moisture, and hobby plywood of unknown species/],
		['long overlap', { ...rim, overlap: '40 mm' }, {}, /an overlap of 40 mm is long/],
		[
			'peel, unabraded, tube surface',
			rim,
			{},
			/peel, cleavage and a surface that was not abraded.*own layers first/
		],
		['adhesive beside a motor', rim, {}, /half their strength and more above 50 to 60 °C/],
		['adhesive, warm', rim, { temperature: '55 °C' }, /half their strength/],
		['strength along the layers', bay, {}, /a data sheet’s is along them, and 0\.3 to 0\.8/],
		['warm PLA', bay, {}, /PLA softens above about 50 °C/],
		['knots and heat', webbing, {}, /a knot halves a line/],
		['typical strength', eye, {}, /margins rest on typical strengths/],
		['least strength as a mean', eye, { basis: 'least' }, /it is overstated/],
		['one load case', eye, {}, /one load case/],
		['margin taken for a factor', eye, {}, /A margin is not a factor: the load times 1\.4/]
	])('%s', (_, link, inputs, message) => {
		expect(warnings(link, inputs)).toMatch(message);
	});
	it('cool joints are not warned of heat, thick plates not of sag, metal not of plies', () => {
		expect(warnings(rim, { temperature: '20 °C' })).not.toMatch(/half their strength/);
		expect(warnings({ ...bulkhead, modulus: '6 GPa' })).not.toMatch(/says nothing/);
		expect(warnings({ ...washer, material: 'other' })).not.toMatch(/plies|moisture/);
		expect(warnings(nut)).not.toMatch(/threads are engaged/);
	});
	it('no nominal diameter can be entered: a thread is chosen by its name', () => {
		const r = attempt([{ ...eye, diameter: '6 mm' }]);
		expect(r.ok ? '' : r.error.message).toMatch(/there is no input "diameter"/);
	});
	it('carries its cautions', () => {
		expect(run([eye]).cautions.join(' ')).toMatch(/stand out of its line.*clears nothing.*safety officer/);
	});
});

describe('impossible input is refused with the reason', () => {
	it.each<[string, Link[], RegExp]>([
		['no strength', [{ name: 'Swivel' }], /^links\.1\.strength: Swivel: breaking strength is missing/],
		['no engagement', [{ ...nut, engagement: '' }], /engaged length of thread is missing/],
		['load wider than the plate', [{ ...bulkhead, loadRadius: '60 mm' }], /must be smaller than the plate/],
		['a plate that is a block', [{ ...bulkhead, thickness: '60 mm' }], /this is no plate/],
		['hole wider than the washer', [{ ...washer, hole: '25 mm' }], /hole must be smaller than the washer/],
		['crushing without a hole', [{ ...washer, bearingStrength: '9 MPa' }], /needs the diameter of the hole/],
		['half a leg', [{ ...eye, count: '1.5' }], /must be a whole number/],
		['one name twice', [eye, { ...eye }], /two links are called Eye bolt/],
		['no link', [], /at least 1 link is needed/]
	])('%s', (_, links, message) => {
		const r = attempt(links);
		expect(r.ok ? 'accepted' : `${r.error.path}: ${r.error.message}`).toMatch(message);
	});
	it('no failure whose link is not said yet: what is to be expected stands', () => {
		const r = attempt([eye], {}, { observed: { happened: 'failed' } });
		expect(r.ok && r.value.statements[0]).toMatch(/^Eye bolt is the weakest link/);
		expect(r.ok && r.value.likelihoods).toBeFalsy();
	});
	it('a failure without the name of a link', () => {
		const r = attempt([eye], {}, { observed: { happened: 'failed', failed: 'nail' } });
		expect(r.ok ? '' : r.error.message).toMatch(/which link failed first, by its name: Eye bolt/);
	});
	it('a scenario whose loads are the wrong way round', () => {
		const r = attempt(
			[eye],
			{},
			{
				observed: { happened: 'held' },
				scenarios: [{ id: 'charge', from: '9 N', to: '5 N' }, 'none-of-these']
			}
		);
		expect(r.ok ? '' : r.error.message).toMatch(/must be less than the greatest/);
	});
});

describe('plates (properties)', () => {
	const plate = fc.record({
		radiusM: fc.double({ min: 0.02, max: 0.2, noNaN: true }),
		thicknessM: fc.double({ min: 0.001, max: 0.01, noNaN: true }),
		loadRadiusM: fc.double({ min: 0.001, max: 0.01, noNaN: true }),
		poisson: fc.double({ min: 0, max: 0.45, noNaN: true })
	});
	it('a clamped edge is never weaker nor softer; scale and thickness act as dimensions say', () => {
		fc.assert(
			fc.property(plate, (p) => {
				const s = plateStrengthN(p, 30e6);
				const w = plateDeflectionM(p, 100, 5e9);
				expect(s.clamped).toBeGreaterThanOrEqual(s.simplySupported);
				expect(w.simplySupported).toBeGreaterThan(w.clamped);
				const twice = {
					...p,
					radiusM: 2 * p.radiusM,
					thicknessM: 2 * p.thicknessM,
					loadRadiusM: 2 * p.loadRadiusM
				};
				expect(plateStrengthN(twice, 30e6).clamped / s.clamped).toBeCloseTo(4, 9);
				expect(plateDeflectionM(twice, 100, 5e9).clamped / w.clamped).toBeCloseTo(0.5, 9);
			})
		);
	});
	it('the sag solves the plate equation (cross-check: its slope integrated over the radius)', () => {
		// Slope of a clamped plate under a point load W: -(W r/(4πD)) ln(a/r); integrated from rim to middle by Simpson.
		const p = { radiusM: 0.1, thicknessM: 0.003, loadRadiusM: 0.002, poisson: 0.3 };
		const d = (5e9 * 0.003 ** 3) / (12 * (1 - 0.09));
		const slope = (r: number) => (r === 0 ? 0 : (100 * r * Math.log(p.radiusM / r)) / (4 * Math.PI * d));
		const n = 2000;
		let sum = 0;
		for (let i = 0; i <= n; i++) sum += (i === 0 || i === n ? 1 : i % 2 ? 4 : 2) * slope((i / n) * p.radiusM);
		const sag = (sum * p.radiusM) / n / 3;
		expect(plateDeflectionM(p, 100, 5e9).clamped / sag).toBeCloseTo(1, 5);
	});
});
