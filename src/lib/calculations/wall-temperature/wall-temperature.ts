import { strengthLeft } from '$lib/physics/hot-strength';
import { defineCalculation } from '../calculation';
import { answers } from './answers';
import { evidence } from './evidence';
import { figure } from './figure';
import { asTyped, gasSide } from './heat-wall';
import { INPUTS, type Inputs } from './inputs';
import { limits } from './limits';

function check(x: Inputs): string | undefined {
	if (Math.abs(x.firings - Math.round(x.firings)) > 1e-9) return 'the number of firings must be whole';
	for (const [i, l] of x.layers.entries())
		if ((l.meltsAt === undefined) !== (l.latent === undefined))
			return `${l.name ?? `layer ${i + 1}`}: a melting point needs its latent heat, and the other way round`;
	if (gasSide(x).recoveryK <= x.start) return 'the gas is not hotter than the wall; check both temperatures';
	return undefined;
}

const temperature = (id: string, label: string) =>
	({ id, label, dimension: 'temperature', unit: '°C' }) as const;
const burning = (id: string, label: string) => ({ id, label, dimension: 'time', unit: 's' }) as const;

export const wallTemperature = defineCalculation({
	id: 'wall-temperature',
	title: 'Wall temperature',
	question:
		'How hot does this wall get through burn, soak and repeat firings; when is it soft, molten or through; and how thick should it be?',
	version: 3,
	inputs: INPUTS,
	outputs: [
		{
			...burning('throughTime', 'Burning time until the wall is through, where it burns through'),
			main: true
		},
		{ ...burning('softTime', 'Burning time until the load layer is soft, where it gets so'), main: true },
		{ ...temperature('backPeak', 'Outside at its hottest'), main: true },
		{ id: 'left', label: 'Wall left', dimension: 'length', unit: 'mm', main: true },
		{ ...temperature('loadBurn', 'Layer that carries the load, mean at the end of the burn'), main: true },
		temperature('loadPeak', 'Layer that carries the load, mean at its hottest'),
		temperature('hotPeak', 'Hot face at its hottest'),
		{ id: 'lost', label: 'Wall lost', dimension: 'length', unit: 'mm' },
		{
			id: 'strength',
			label: 'Proof strength left at the end of the burn, of the cold one',
			dimension: 'ratio',
			unit: '1'
		},
		{ id: 'coldFlux', label: 'Heat flux into the cold wall', dimension: 'heat flux', unit: 'MW/m²' },
		{
			id: 'coefficient',
			label: 'Heat-transfer coefficient at the hottest face',
			dimension: 'heat-transfer coefficient',
			unit: 'W/(m²·K)'
		},
		temperature('recovery', 'Hottest that the gas can make a wall'),
		burning('meltTime', 'Burning time until the hot face melts, where it does'),
		{ id: 'needed', label: 'Thickness needed at the hot face', dimension: 'length', unit: 'mm', main: true }
	],
	sources: [
		{
			text: 'Bartz, Jet Propulsion 27 (1957) 49; Huzel and Huang, NASA SP-125, eqs. 4-10 to 4-16',
			basis: 'from memory'
		},
		{ text: 'Carslaw and Jaeger, Conduction of Heat in Solids; Holman, Heat Transfer', basis: 'from memory' },
		{
			text: 'Landau, Quarterly of Applied Mathematics 8 (1950) 81: melting with the melt taken away',
			basis: 'from memory'
		},
		{ text: 'EN 1993-1-2:2005, 3.2 and 3.4.1, as a public code transcribes it: hot steel', basis: 'seen' },
		{ text: 'Aluminum Association, typical 6061-T6, on public data sheets', basis: 'seen' },
		{
			text: 'Hahm and Kang, J. Korean Soc. Propulsion Eng. 16(2) 2012, 42-50, abstract: Bartz is high',
			basis: 'seen'
		},
		{ text: 'Graphite and phenolic: middle of ranges, not verified', basis: 'from memory' }
	],
	docs: 'methods/wall-temperature.md',
	cautions: [
		'Spent motors and nozzles stay hot for longer than they look, and the outside is hottest after the burn. Let them cool before they are touched, packed or taken apart.',
		'A thickness computed here is no clearance to fire. Motors follow the range’s safety code (such as NFPA 1127, 2018 edition, from memory), their certification and local law; the range’s officer prevails.'
	],
	check,
	model(x) {
		const r = asTyped(x);
		const side = gasSide(x);
		const { material } = x.layers.at(-1)!;
		return {
			backPeak: r.backPeakK,
			left: r.leftM,
			loadBurn: r.loadBurnK,
			loadPeak: r.loadPeakK,
			hotPeak: r.hotPeakK,
			lost: r.lostM,
			strength:
				material === 'steel' || material === 'aluminium'
					? strengthLeft(material, r.loadBurnK).proof
					: undefined,
			coldFlux: side.coefficient(x.start) * (side.recoveryK - x.start),
			coefficient: side.coefficient(r.hotPeakK),
			recovery: side.recoveryK
		};
	},
	limits,
	evidence,
	addition: answers,
	figure
});
