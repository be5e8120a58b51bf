/** The photographs of the story, as plain field drawings: SVG from a seed, then JPEG with the camera's own tags. */
import sharp from 'sharp';
import { randomStream } from '$lib/probability/generator';
import type { Position } from '$lib/physics/geodesy';
import { lettering, widthOf } from './lettering';
import { type Scene, SCENES, type SceneName } from './scenes';

const [WIDTH, HEIGHT, STRIP] = [1600, 1200, 130];

/** What the camera writes beside the picture. */
export interface Taken {
	/** As the camera's clock showed it: '2025-05-17T15:21:40'. */
	localTime: string;
	zone: string;
	place: Position;
	accuracyM: number;
}

/** The scene over a strip that says what it is; a bar where the scene has one scale. */
function svgOf(scene: SceneName): string {
	const { title, draw, bar } = SCENES[scene] as Scene;
	const note = 'DRAWN FOR THE EXAMPLE: NOT A PHOTOGRAPH';
	const top = HEIGHT - STRIP;
	const scale = bar
		? `<g transform="translate(${WIDTH - 60 - bar.px} ${top + 34})"><path d="M0 0H${bar.px}V18H0Z" fill="#fdfcf9" stroke="#1d2630" stroke-width="3"/>${[0, 2, 4].map((i) => `<path d="M${(i * bar.px) / 5} 0h${bar.px / 5}v18h${-bar.px / 5}Z" fill="#1d2630"/>`).join('')}${lettering(bar.label, (bar.px - widthOf(bar.label, 24)) / 2, 62, 24)}</g>`
		: '';
	return `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${HEIGHT}" viewBox="0 0 ${WIDTH} ${HEIGHT}"><g clip-path="url(#frame)">${draw(randomStream(7, scene))}</g><clipPath id="frame"><path d="M0 0H${WIDTH}V${top}H0Z"/></clipPath><path d="M0 ${top}H${WIDTH}V${HEIGHT}H0Z" fill="#fdfcf9"/><path d="M0 ${top}H${WIDTH}" stroke="#1d2630" stroke-width="3"/>${lettering(title, 46, top + 58, 30)}${lettering(note, 46, top + 102, 19, '#59646f')}${scale}</svg>`;
}

const rational = (x: number, over: number) => `${Math.round(x * over)}/${over}`;

/** Degrees, minutes and seconds as EXIF keeps them, to a hundredth of a second (0.3 m). */
function angle(deg: number): string {
	const hundredths = Math.round(Math.abs(deg) * 360_000);
	return `${Math.floor(hundredths / 360_000)}/1 ${Math.floor((hundredths % 360_000) / 6_000)}/1 ${hundredths % 6_000}/100`;
}

/** A JPEG with time, zone and position in its EXIF, as a phone writes them. Source: EXIF 2.3 (CIPA DC-008). */
export function photo(scene: SceneName, { localTime, zone, place, accuracyM }: Taken): Promise<Buffer> {
	const stamp = localTime.replace(/-/g, ':').replace('T', ' ');
	return sharp(Buffer.from(svgOf(scene)))
		.flatten({ background: '#fdfcf9' })
		.withExif({
			IFD0: { ImageDescription: 'Drawn for the example of Witness Mark; not a photograph', DateTime: stamp },
			IFD2: { DateTimeOriginal: stamp, OffsetTimeOriginal: zone },
			IFD3: {
				GPSLatitudeRef: place.latitudeDeg < 0 ? 'S' : 'N',
				GPSLatitude: angle(place.latitudeDeg),
				GPSLongitudeRef: place.longitudeDeg < 0 ? 'W' : 'E',
				GPSLongitude: angle(place.longitudeDeg),
				GPSHPositioningError: rational(accuracyM, 10)
			}
		})
		.jpeg({ quality: 84, chromaSubsampling: '4:4:4' })
		.toBuffer();
}
