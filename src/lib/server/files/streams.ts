/** A response's body made while it is sent. */
export function asStream(content: AsyncIterable<Uint8Array>): ReadableStream<Uint8Array<ArrayBuffer>> {
	const chunks = content[Symbol.asyncIterator]();
	return new ReadableStream({
		async pull(controller) {
			const next = await chunks.next();
			if (next.done) controller.close();
			else controller.enqueue(next.value as Uint8Array<ArrayBuffer>);
		},
		async cancel() {
			await chunks.return?.();
		}
	});
}

/** A request's body in the pieces in which it comes. */
export async function* bodyOf(request: Request): AsyncGenerator<Uint8Array> {
	const reader = request.body?.getReader();
	for (;;) {
		const next = await reader?.read();
		if (!next || next.done) return;
		yield next.value;
	}
}
