import { calculationById } from '$lib/calculations/registry';
import { runCalculation, type Request } from '$lib/calculations/run';
import { INVESTIGATION } from '$lib/investigation/case';
import * as v from 'valibot';
import { Case } from './anomaly-case';
import { circle, piece } from './workbench';

/** A case with a pad, wind, two pieces of which one was taped from the other, and a tree of two causes. */
export class CalculationCase extends Case {
	readonly body: string;
	readonly bulkhead: string;
	readonly top: string;

	constructor() {
		super();
		this.save('site', {
			name: 'Common',
			pad: { kind: 'typed', typed: '48.1, 11.2', circle },
			elevation: '512 m',
			declinationDeg: '3 E',
			ownersLeave: 'yes',
			powerLines: 'no',
			water: 'no',
			fireRisk: 'no',
			accessNote: '',
			told: []
		});
		this.wind([
			['0 m', 217, '4 m/s'],
			['600 m', 225, '8 m/s'],
			['1500 m', 232, '11 m/s']
		]);
		this.body = this.do('evidence.add', {
			record: piece({
				title: 'Body and fins',
				mass: '4.2 kg',
				ballisticCoefficient: '38 ± 6 kg/m²',
				position: this.#measured('pad', '612 ± 5 m', '46')
			})
		});
		this.bulkhead = this.do('evidence.add', {
			record: piece({
				title: 'Bulkhead',
				mass: '212 g',
				ballisticCoefficient: '10 to 20 kg/m²',
				position: this.#measured(this.body, '2.1 ± 0.2 m', '87')
			})
		});
		this.top = this.state();
		this.add('air', this.top, 'Pulled out in the air');
		this.add('landing', this.top, 'Knocked out by the landing');
	}

	#measured(from: string, distance: string, bearingDeg: string) {
		return { kind: 'bearing', from, distance, bearingDeg, reference: 'magnetic', bearingPlusMinusDeg: '5' };
	}

	wind(rows: [string, number, string][]) {
		this.save('weather', {
			surfaceTemperature: '19 °C',
			surfacePressure: '1015 hPa',
			pressureIs: 'seaLevel',
			heightsAre: 'abovePad',
			fromReference: 'magnetic',
			wind: rows.map(([height, fromDeg, speed]) => ({ height, fromDeg, speed, temperature: null })),
			speedSpread: '25 %',
			directionSpreadDeg: '15',
			sounding: null,
			source: 'forecast',
			note: ''
		});
	}

	save(collection: 'site' | 'weather', record: unknown) {
		this.put(collection, 'main', v.parse(INVESTIGATION[collection], record));
	}
}

const request: Request = {
	inputs: {
		pieces: [
			{ name: 'Body', ballisticCoefficient: '38 ± 6 kg/m²' },
			{ name: 'Bulkhead', ballisticCoefficient: '10 to 20 kg/m²' }
		],
		wind: [
			{ height: '0 m', speed: '4 m/s', from: '220°' },
			{ height: '1500 m', speed: '11 m/s', from: '235°' }
		],
		highestParting: '1450 m'
	},
	observed: { found: [{ distance: '2.1 ± 0.2 m' }] },
	seed: 3,
	samples: 100
};

/** A run as the page sends it; computed once for each set of changes. */
export function fallRun(more: Partial<Request> = {}) {
	const asked = { ...request, ...more };
	const result = runCalculation(calculationById('fall-separation')!, asked);
	if (!result.ok) throw new Error(`${result.error.path}: ${result.error.message}`);
	const { inputs, observed, scenarios = [], seed, samples } = asked;
	const planned = asked.planned ? { planned: true } : {};
	return { inputs, observed, scenarios, ...planned, seed, samples, sources: [], result: result.value };
}
