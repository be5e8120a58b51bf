import type { StartingTree } from '../starting-tree';

export const tetherBroken: StartingTree = {
	id: 'tether-broken',
	title: 'Broken tether or attachment',
	takeIt: 'Sections that should hang together came down apart.',
	causes: [
		{
			name: 'over',
			title: 'Snatch load was greater than planned',
			of: [
				{ name: 'charge', title: 'Charge threw the sections apart too fast', often: 0.05, fault: 'command' },
				{ name: 'speed', title: 'Sections parted at too high an air speed', often: 0.05, fault: 'secondary' },
				{
					name: 'short',
					title: 'Tether too short or too stiff to take the jolt',
					often: 0.05,
					fault: 'primary'
				}
			]
		},
		{
			name: 'cord',
			title: 'Tether was weaker than planned',
			of: [
				{ name: 'burn', title: 'Tether scorched by charge or motor gas', often: 0.05, fault: 'secondary' },
				{ name: 'chafe', title: 'Tether cut on the tube edge or a fitting', often: 0.05, fault: 'secondary' },
				{ name: 'worn', title: 'Tether worn or aged by earlier flights', often: 0.05, fault: 'primary' },
				{ name: 'knot', title: 'Knot slipped or weakened the tether', often: 0.05, fault: 'primary' }
			]
		},
		{
			name: 'anchor',
			title: 'Attachment let go',
			of: [
				{ name: 'eye', title: 'Eye or link opened or broke', often: 0.05, fault: 'primary' },
				{ name: 'thread', title: 'Nut turned off or thread stripped', often: 0.05, fault: 'primary' },
				{
					name: 'plate',
					title: 'Bulkhead cracked or the bolt pulled through',
					often: 0.05,
					fault: 'primary'
				},
				{ name: 'bond', title: 'Bond of the bulkhead or loop peeled', often: 0.05, fault: 'primary' },
				{ name: 'open', title: 'Link stood open at lift-off', often: 0.01, fault: 'command' }
			]
		}
	],
	signs: [
		{
			sign: 'Sections parted faster than planned on the video or in the log',
			where: 'video frames; acceleration at the firing',
			anyway: 0.05,
			minutes: 20,
			shownBy: { charge: 0.9 }
		},
		{
			sign: 'Charge weight noted above the plan',
			where: 'packing notes; nothing live is opened to find out',
			anyway: 0.05,
			minutes: 10,
			shownBy: { charge: 0.7 }
		},
		{
			sign: 'Log shows high speed at parting',
			where: 'speed at the firing, both recorders',
			anyway: 0.05,
			minutes: 15,
			shownBy: { speed: 0.99 }
		},
		{
			sign: 'Tether shorter than three vehicle lengths or of stiff fibre',
			where: 'length and fibre of what is left',
			anyway: 0.1,
			minutes: 10,
			shownBy: { short: 0.9 }
		},
		{
			sign: 'Fibre ends melted or brown',
			where: 'both ends under a lens; keep them dry and apart',
			anyway: 0.01,
			minutes: 15,
			shownBy: { burn: 0.9 }
		},
		{
			sign: 'Fibre ends cut in one plane',
			where: 'both ends under a lens',
			anyway: 0.05,
			minutes: 15,
			shownBy: { chafe: 0.7 }
		},
		{
			sign: 'Tube edge slit by the cord',
			where: 'tube mouth, length of the slit',
			anyway: 0.1,
			minutes: 5,
			shownBy: { chafe: 0.7, charge: 0.3, speed: 0.3 }
		},
		{
			sign: 'Fibre ends frayed over a length, cord fuzzy elsewhere',
			where: 'ends and the whole length',
			anyway: 0.1,
			minutes: 20,
			shownBy: { worn: 0.9, short: 0.3, charge: 0.3, speed: 0.3 }
		},
		{
			sign: 'End without break and kinked, or break right at a knot',
			where: 'end of the cord, its partner fitting',
			anyway: 0.01,
			minutes: 5,
			shownBy: { knot: 0.9 }
		},
		{
			sign: 'Eye or link drawn open, or broken at its weld',
			where: 'eye, link and swivel beside an unused one',
			anyway: 0.01,
			minutes: 5,
			shownBy: { eye: 0.9 }
		},
		{
			sign: 'Thread torn or nut missing',
			where: 'bolt thread and nut under a lens',
			anyway: 0.01,
			minutes: 15,
			shownBy: { thread: 0.9 }
		},
		{
			sign: 'Bulkhead holed, dished or cracked around the bolt',
			where: 'both faces of the bulkhead',
			anyway: 0.05,
			minutes: 5,
			shownBy: { plate: 0.9 }
		},
		{
			sign: 'Bond left one face clean',
			where: 'bonded faces in slanting light',
			anyway: 0.05,
			minutes: 15,
			shownBy: { bond: 0.7 }
		},
		{
			sign: 'Link found whole and open',
			where: 'link as found; pad photos',
			anyway: 0.01,
			minutes: 5,
			shownBy: { open: 0.9, eye: 0.1 }
		}
	],
	calculations: [
		'tether-load',
		'deployment-charge',
		'deployment-speed',
		'attachment-strength',
		'fall-separation'
	]
};
