/** An invented situation that the tests of the calculations share. */
export const wind = [
	{ height: '0 m', speed: '4 m/s', from: '270 deg' },
	{ height: '600 m', speed: '9 m/s', from: '280 deg' },
	{ height: '2000 m', speed: '14 m/s', from: '300 deg' }
];
export const pieces = [
	{ name: 'Body', ballisticCoefficient: '40 kg/m2' },
	{ name: 'Bulkhead', ballisticCoefficient: '10 to 20 kg/m2' }
];
/** No spread anywhere: what remains is the model alone. */
export const exact = {
	windFactor: '1 ± 0',
	windTurn: '0 ± 0 deg',
	groundSpeed: '0 m/s',
	climbRate: '0 m/s',
	partingSpeed: '0 m/s'
};
