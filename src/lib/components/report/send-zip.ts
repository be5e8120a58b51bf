/** What came of an import, as the server tells it. */
export interface Imported {
	folders: { archiveId: string; title: string; id: string; rev: number; was: 'new' | 'already here' }[];
	notes: string[];
}

export type Taken = { ok: true; imported: Imported } | { ok: false; message: string };

const SILENT =
	'The tool does not answer, so nothing was imported. See whether it still runs, then try again; the zip is as it was.';

/** Sends a zip; only this kind of request can say how much has left. */
export function sendZip(file: File, progress: (share: number) => void, signal: AbortSignal): Promise<Taken> {
	return new Promise((resolve) => {
		const request = new XMLHttpRequest();
		request.open('PUT', '/import');
		request.setRequestHeader('content-type', 'application/zip');
		request.upload.onprogress = (event) => progress(event.total > 0 ? event.loaded / event.total : 0);
		request.onload = () => resolve(answerOf(request.responseText));
		request.onerror = () => resolve({ ok: false, message: SILENT });
		request.onabort = () => resolve({ ok: false, message: 'Stopped. Nothing was imported.' });
		signal.addEventListener('abort', () => request.abort());
		request.send(file);
	});
}

function answerOf(text: string): Taken {
	try {
		const answer = JSON.parse(text) as
			{ ok: true; imported: Imported } | { ok: false; problems: { message: string }[] } | { message: string };
		if ('ok' in answer && answer.ok) return answer;
		const message =
			'problems' in answer ? answer.problems[0]?.message : 'message' in answer ? answer.message : '';
		return { ok: false, message: message || SILENT };
	} catch {
		return { ok: false, message: SILENT };
	}
}
