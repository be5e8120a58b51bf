const MB = 1024 * 1024;

/** Largest request bodies, in bytes. The server's entry refuses what exceeds the largest of them. */
export const bodyLimits = {
	command: 1 * MB,
	photo: 50 * MB,
	recording: 200 * MB,
	archive: 4100 * MB
} as const;

/**
 * Routes that take more than a command, by route id (the folder under src/routes). A route that takes photos and
 * recordings stands here with the larger limit and narrows it with `limitBody` once it knows which it got.
 */
const routeLimits: Readonly<Record<string, number>> = {
	'/investigations/[id]/files': bodyLimits.recording,
	'/import': bodyLimits.archive
};

/** The limit of a route, in bytes; routes not named above take commands and forms only. */
export function limitOf(routeId: string | null): number {
	return routeLimits[routeId ?? ''] ?? bodyLimits.command;
}

/** For messages: 52428800 is '50 MB'. */
export function inMegabytes(bytes: number): string {
	return `${Math.round((bytes / MB) * 10) / 10} MB`;
}

/**
 * The same request, whose body fails with what `tooLarge` throws as soon as it is longer than the limit. Declared lengths are
 * refused at once, undeclared ones counted while they come in.
 * @throws what `tooLarge` throws, if the declared length is over the limit
 */
export function limitBody(request: Request, limitBytes: number, tooLarge: () => never): Request {
	if (request.body === null) return request;
	if (Number(request.headers.get('content-length') ?? 0) > limitBytes) tooLarge();
	let received = 0;
	const counted = request.body.pipeThrough(
		new TransformStream<Uint8Array, Uint8Array>({
			transform(chunk, controller) {
				received += chunk.byteLength;
				if (received > limitBytes) tooLarge();
				controller.enqueue(chunk);
			}
		})
	);
	return new Request(request, { body: counted, duplex: 'half' } as RequestInit);
}
