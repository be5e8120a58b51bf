/** What each drawing shows. Pixels; the strip below belongs to pictures.ts. */
import type { Random } from '$lib/probability/generator';

export interface Scene {
	title: string;
	bar?: { px: number; label: string };
	draw: (random: Random) => string;
}

const [WIDTH, BOTTOM] = [1600, 1070];
const INK = '#26303a';
const n = (x: number) => x.toFixed(1);
const path = (d: string, fill: string, stroke = INK, width = 4, more = '') =>
	`<path d="${d}" fill="${fill}" stroke="${stroke}" stroke-width="${width}" stroke-linejoin="round" stroke-linecap="round" ${more}/>`;
const line = (d: string, stroke = INK, width = 4, more = '') => path(d, 'none', stroke, width, more);
const rect = (x: number, y: number, w: number, h: number, fill: string, width = 4, r = 0) =>
	`<rect x="${x}" y="${y}" width="${w}" height="${h}" rx="${r}" fill="${fill}" stroke="${INK}" stroke-width="${width}"/>`;
const circle = (x: number, y: number, r: number, fill: string, width = 4) =>
	`<circle cx="${n(x)}" cy="${n(y)}" r="${n(r)}" fill="${fill}" stroke="${INK}" stroke-width="${width}"/>`;
const at = (x: number, y: number, turn: number, what: string) =>
	`<g transform="translate(${x} ${y}) rotate(${turn})">${what}</g>`;

/** Heath: short grass in tufts, a few stones. */
function heath(random: Random, tufts = 1500): string {
	const greens = ['#8b9365', '#7a8455', '#9aa174', '#6d7749', '#a3a37c'];
	const blades = Array.from({ length: tufts }, () => {
		const [x, y, size] = [random() * WIDTH, random() * (BOTTOM + 20), 10 + 16 * random()];
		const lean = (random() - 0.4) * size;
		return `<path d="M${n(x)} ${n(y)}q${n(lean * 0.3)} ${n(-size * 0.6)} ${n(lean)} ${n(-size)}" fill="none" stroke="${greens[Math.floor(random() * greens.length)]}" stroke-width="${n(2 + 2 * random())}" stroke-linecap="round"/>`;
	});
	const stones = Array.from({ length: 16 }, () => {
		const [x, y, r] = [random() * WIDTH, random() * BOTTOM, 8 + 18 * random()];
		return `<ellipse cx="${n(x)}" cy="${n(y)}" rx="${n(r * 1.4)}" ry="${n(r)}" fill="#b4b1a4" stroke="#8b897e" stroke-width="2"/>`;
	});
	return `<path d="M0 0H${WIDTH}V${BOTTOM}H0Z" fill="#b9bb94"/>${blades.join('')}${stones.join('')}`;
}

/** Laid on grey card on a bench. */
const card = () =>
	`<path d="M0 0H${WIDTH}V${BOTTOM}H0Z" fill="#cfd2d2"/>${Array.from({ length: 17 }, (_, i) => `<path d="M${i * 100} 0V${BOTTOM}M0 ${i * 100}H${WIDTH}" stroke="#bcc1c2" stroke-width="2"/>`).join('')}`;

/** A long thing along a line, with its light side up. */
const rope = (d: string, colour: string, width: number) =>
	line(d, INK, width + 7) +
	line(d, colour, width) +
	line(d, '#fdfcf9', width * 0.22, 'stroke-dasharray="14 18" opacity="0.7"');

/** Bare patches: laminate that no adhesive ever touched, glossy and pale. */
function patches(random: Random, x: number, y: number, w: number, h: number, count: number): string {
	return Array.from({ length: count }, () => {
		const [px, py] = [x + random() * w, y + random() * h];
		const [rx, ry] = [14 + random() * 34, 5 + random() * (h / 4)];
		return `<ellipse cx="${n(px)}" cy="${n(py)}" rx="${n(rx)}" ry="${n(ry)}" fill="#f2eede" stroke="#9d8c5d" stroke-width="2"/>`;
	}).join('');
}

const TUBE = '#e9e4d4';
const LAMINATE = '#c9b88a';
const ORANGE = '#d9793f';

/** Body lying left to right: coupler end, tube, fins; the near fin is a stub. */
const body = () =>
	rect(-520, -52, 900, 104, TUBE, 5, 8) +
	path('M-520 -30H380', 'none', '#fff', 10, 'opacity="0.6"') +
	rect(-520, -52, 120, 104, '#5d6a75', 5, 8) +
	path('M200 -52L290 -190H390L380 -52Z', LAMINATE, INK, 5) +
	path('M200 52L246 122L384 126L380 52Z', LAMINATE, INK, 5) +
	line('M246 122l18 -6 14 9 20 -8 16 7 22 -9 16 8 22 -5 10 6', '#7d6b3a', 5) +
	rect(380, -40, 46, 80, '#4a4f55', 5, 4);

export const SCENES = {
	overview: {
		title: 'E1  AS FOUND, FROM THE WEST',
		bar: { px: 300, label: '0.5 M' },
		draw: (random) =>
			heath(random) +
			rope('M280 520C420 300 560 330 690 460S940 690 1010 520S1120 250 1260 250', '#d8c03f', 9) +
			at(820, 700, 12, body()) +
			at(
				1290,
				250,
				-18,
				path('M-110 -50C20 -50 120 -30 190 0C120 30 20 50 -110 50Z', TUBE, INK, 5) +
					line('M-60 -50V50', '#8a8677', 3)
			) +
			at(
				250,
				560,
				0,
				path(
					'M-150 20C-130 -60 -60 -90 10 -70C70 -100 150 -60 160 0C190 60 120 110 40 96C-20 130 -140 110 -150 20Z',
					ORANGE,
					INK,
					5
				) +
					line(
						'M-110 10C-60 -30 0 -40 60 -20M-90 60C-20 20 60 30 120 20M-20 -60C10 0 10 50 -10 90',
						'#8f4a1e',
						4
					)
			)
	},
	fin: {
		title: 'E2  OUTER HALF OF FIN 2, JOINT UPPERMOST',
		bar: { px: 350, label: '50 MM' },
		draw: (random) =>
			heath(random, 900) +
			`<path d="M150 120H1450V980H150Z" fill="#dfe1df" stroke="${INK}" stroke-width="4"/>` +
			path('M330 330H1310L1180 860H700Z', LAMINATE, INK, 6) +
			line(
				'M400 420L1270 420M450 500L1250 500M500 580L1230 580M550 660L1210 660M600 740L1190 740',
				'#b8a674',
				3
			) +
			path('M330 330H1310L1296 386H362Z', '#a98d4b', INK, 4) +
			patches(random, 380, 338, 880, 40, 24) +
			line(
				'M330 330l26 -8 30 10 44 -12 38 10 60 -9 52 11 40 -8 70 9 66 -10 58 9 74 -8 62 8 80 -7 86 8 60 -8 74 7 60 -4',
				INK,
				6
			)
	},
	stub: {
		title: 'E1  STUB OF FIN 2, LOOKING AT THE JOINT',
		bar: { px: 350, label: '50 MM' },
		draw: (random) =>
			card() +
			path('M0 700C400 640 1200 640 1600 700V1070H0Z', TUBE, INK, 6) +
			line('M0 790C400 735 1200 735 1600 790', '#fff', 16, 'opacity="0.6"') +
			path('M260 690L420 300H1350L1420 690C1100 655 640 655 260 690Z', LAMINATE, INK, 6) +
			path('M420 300H1350L1362 366H396Z', '#a98d4b', INK, 5) +
			patches(random, 440, 310, 860, 46, 26) +
			line('M260 690C640 655 1100 655 1420 690', '#8f7d4a', 18) +
			line('M470 470H1360M430 560H1380', '#b8a674', 3)
	},
	drogue: {
		title: 'E3  DROGUE WOUND ROUND THE TETHER',
		bar: { px: 300, label: '100 MM' },
		draw: (random) => {
			const turns = Array.from({ length: 11 }, (_, i) => {
				const x = 470 + i * 60;
				return rope(`M${x} 600C${x + 10} 500 ${x + 60} 480 ${x + 66} 590`, '#eae6da', 12);
			}).join('');
			return (
				heath(random, 1200) +
				rope('M-20 640C200 600 320 590 470 590L1160 560C1300 550 1450 500 1620 470', '#d8c03f', 26) +
				path(
					'M1080 470C1180 380 1340 400 1380 470C1460 500 1460 620 1380 660C1320 720 1170 720 1090 650C1040 610 1040 520 1080 470Z',
					ORANGE,
					INK,
					6
				) +
				line(
					'M1100 500C1180 480 1290 480 1390 500M1090 560C1190 590 1300 590 1420 570M1110 630C1200 640 1300 640 1370 640',
					'#8f4a1e',
					5
				) +
				turns +
				rope('M430 610C350 660 300 760 330 860C360 950 470 960 520 900', '#eae6da', 12)
			);
		}
	},
	swivel: {
		title: 'SWIVEL OF THE DROGUE LEADER',
		bar: { px: 400, label: '20 MM' },
		draw: (random) =>
			card() +
			rope('M-20 540H420', '#eae6da', 44) +
			rope('M1180 540H1640', '#d8c03f', 60) +
			circle(520, 540, 120, '#9aa0a5', 8) +
			circle(520, 540, 66, '#cfd2d2', 8) +
			rect(640, 470, 300, 140, '#868d93', 8, 24) +
			line('M690 470V610M890 470V610', '#5b6268', 8) +
			rect(940, 505, 60, 70, '#b9bec2', 8) +
			circle(1090, 540, 120, '#9aa0a5', 8) +
			circle(1090, 540, 66, '#cfd2d2', 8) +
			Array.from({ length: 60 }, () => {
				const [x, y] = [930 + random() * 80, 486 + random() * 108];
				return `<circle cx="${n(x)}" cy="${n(y)}" r="${n(3 + 6 * random())}" fill="${random() < 0.5 ? '#7a4a22' : '#d8cfae'}"/>`;
			}).join('')
	},
	igniter: {
		title: 'E6  IGNITER LEADS, TAPE MARK AND HEAD',
		bar: { px: 320, label: '40 MM' },
		draw: (random) =>
			card() +
			line('M80 380C360 330 520 470 760 420S1180 430 1320 470', '#9c3a2c', 12) +
			line('M80 450C360 400 520 540 760 490S1180 490 1320 500', '#3a4652', 12) +
			path('M1320 455h120l24 24 -24 36h-120Z', '#33302c', INK, 6) +
			rect(760, 380, 96, 150, '#e8e2a8', 5) +
			line('M808 380V530', '#1d2630', 6) +
			line('M808 590V690M1430 590V690M808 660H1430', INK, 5) +
			`<ellipse cx="1120" cy="466" rx="230" ry="56" fill="#2c2926" opacity="0.35"/>` +
			patches(random, 90, 380, 20, 60, 2)
	},
	still: {
		title: 'CAMERA, 0.4 S AFTER THE SWITCH',
		draw: (random) => {
			const puff = Array.from({ length: 26 }, () => {
				const [x, y, r] = [640 + random() * 300, 925 + random() * 110, 26 + 48 * random()];
				return `<circle cx="${n(x)}" cy="${n(y)}" r="${n(r)}" fill="#f4f2ec" opacity="0.8"/>`;
			}).join('');
			return (
				`<path d="M0 0H${WIDTH}V${BOTTOM}H0Z" fill="#c8d6df"/>` +
				path('M0 760C500 720 1100 740 1600 700V1070H0Z', '#a9ad82', '#7a8455', 3) +
				rect(700, 60, 26, 930, '#6c757d', 4) +
				line('M600 1010L713 880L830 1010M713 880V1010', INK, 12) +
				rect(740, 230, 62, 640, TUBE, 5) +
				path('M740 230C744 140 760 96 771 70C782 96 798 140 802 230Z', TUBE, INK, 5) +
				path('M740 740L668 860V900L740 870ZM802 740L874 860V900L802 870Z', LAMINATE, INK, 5) +
				rect(752, 870, 38, 22, '#4a4f55', 4) +
				rect(740, 470, 62, 60, '#5d6a75', 4) +
				puff
			);
		}
	},
	beacon: {
		title: 'E5  BEACON SLED, CONNECTOR AT THE LEFT',
		bar: { px: 320, label: '20 MM' },
		draw: () =>
			card() +
			rect(240, 360, 1120, 380, '#2f6b57', 6, 14) +
			rect(900, 430, 380, 240, '#8a9096', 6, 10) +
			rect(560, 470, 160, 160, '#22282e', 6) +
			rect(760, 540, 70, 110, '#22282e', 6) +
			line('M1280 550H1480C1540 550 1540 470 1490 420', '#c9b88a', 12) +
			rect(250, 480, 130, 140, '#f0ede4', 6, 6) +
			rect(120, 496, 130, 108, '#e3dfd2', 6, 6) +
			line('M120 525C40 525 20 480 -20 450', '#9c3a2c', 16) +
			line('M120 575C40 575 20 610 -20 640', '#22282e', 16) +
			line('M236 470V632', '#c8502d', 5, 'stroke-dasharray="12 10"') +
			[300, 1300].flatMap((x) => [390, 710].map((y) => circle(x, y, 16, '#d8d9d6', 5))).join('')
	}
} as const satisfies Record<string, Scene>;
export type SceneName = keyof typeof SCENES;
