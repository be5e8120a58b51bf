/**
 * What storage knows: folders of records, the lines of their history, and the ways in which it says no.
 * It knows nothing of investigations; the case model gives it records and a check.
 */
export type Json = null | boolean | number | string | readonly Json[] | JsonObject;
export type JsonObject = { readonly [key: string]: Json };

/** A folder's state: collection, then id. A singleton is a collection with one id. */
export type Records = Readonly<Record<string, Readonly<Record<string, JsonObject>>>>;

/** One record before and after; null is 'not there'. */
export interface Change {
	collection: string;
	id: string;
	before: JsonObject | null;
	after: JsonObject | null;
}

export interface RecordRef {
	collection: string;
	id: string;
}

/** One acknowledged change. Replay applies `changes`; operation and args are there to be read. */
export interface HistoryLine {
	rev: number;
	/** Checksum of the line before, so that lines of two histories cannot be mixed. */
	prev: string;
	/** The revision that the person saw when they made the change. */
	baseRev: number;
	/** ISO 8601, UTC, by the server's clock. */
	time: string;
	who: string;
	operation: string;
	args: Json;
	changes: Change[];
	/** Given by the sender; the same key twice is one commit. */
	key?: string;
	/** The line holds the whole state and follows a repair: revisions before it may be missing. */
	baseline?: true;
}

export interface Command {
	baseRev: number;
	who: string;
	operation: string;
	args: Json;
	key?: string;
}

/** What an operation decided on the present state; `reads` are records it relied on without changing them. */
export interface Decision {
	changes: readonly Change[];
	reads?: readonly RecordRef[];
}

export type Result<T, E> = { ok: true; value: T } | { ok: false; error: E };
export const ok = <T>(value: T): { ok: true; value: T } => ({ ok: true, value });
export const no = <E>(error: E): { ok: false; error: E } => ({ ok: false, error });
export type Answer<T, E = Refusal> = Promise<Result<T, E>>;

export interface ConflictRecord extends RecordRef {
	/** As it stood at the sender's revision, as far as the history tells. */
	base: JsonObject | null;
	present: JsonObject | null;
}

/** Every message is a sentence for the person at the screen: what happened and what to do. */
export type Refusal =
	| { kind: 'not-found'; message: string }
	| { kind: 'exists'; message: string }
	| { kind: 'damaged'; message: string; lastGoodRev: number }
	| { kind: 'too-new'; message: string }
	| {
			kind: 'conflict';
			message: string;
			currentRev: number;
			records: ConflictRecord[];
			/** The lines since the sender's revision that touched these records. */
			since: HistoryLine[];
	  }
	| { kind: 'full'; message: string }
	| { kind: 'read-only'; message: string }
	| { kind: 'too-large'; message: string; limit: number; size: number }
	| { kind: 'bad-file'; message: string }
	| { kind: 'invalid'; message: string; problems: string[] };

/** The operation itself said no; `refusal` is its own. */
export interface OperationRefusal<R> {
	kind: 'operation';
	refusal: R;
}

export interface Committed {
	rev: number;
	time: string;
}

export interface Opened extends Committed {
	/** Deeply frozen, of exactly this revision; it stays as it is when later commits come. */
	state: Records;
	/** What opening found and did, and what the rules say against the state; empty when all was well. */
	report: readonly string[];
}

export interface Listed {
	id: string;
	rev: number;
	time: string;
	summary: JsonObject;
	/** Why the folder cannot be opened, if so. */
	problem?: string;
}

export interface StoredFile {
	sha256: string;
	bytes: number;
}

export interface FileLimits {
	limitBytes: number;
	/** Announced size, if known: refused before a byte is read when it is too large for limit or disk. */
	expectedBytes?: number;
	/** Sees every chunk; a sentence, then or at the end, refuses the file before it is kept. */
	inspect?: { chunk(bytes: Uint8Array): string | null; verdict(): Promise<string | null> };
}

/** What the case model tells storage; every part is optional and synchronous. */
export interface Rules {
	/** Problems of the changed records in the state that they would make, in words. */
	check?(id: string, changes: readonly Change[], after: Records): string[];
	/** SHA-256 of every file that these changes name: each must have arrived before. */
	filesNamed?(changes: readonly Change[]): string[];
	/** Looks at a whole state when a folder is opened or imported. */
	opened?(id: string, state: Records): { tooNew?: string; upgrade?: Change[]; problems?: string[] };
	/** A few words for the list of folders (name, date, counts), at most 8 KB. */
	summary?(id: string, state: Records): JsonObject;
}

export interface VerifyReport {
	rev: number;
	lines: number;
	files: number;
	/** One sentence for each fault; empty when everything is whole. */
	problems: string[];
}

export const LIMITS = {
	/** Arguments and new records of one command. */
	commandBytes: 1024 * 1024,
	/** All records of one folder. */
	documentBytes: 20 * 1024 * 1024,
	/** Idempotency keys remembered. */
	keys: 1000
} as const;

/**
 * The one storage interface. A folder id is `<kind>/<name>`, e.g. `investigations/2031-05-fin-loss`.
 * Promises, held by the contract suite for each engine: acknowledged is durable; a commit is all or nothing;
 * rev rises by one without gaps and the history replays to the present state; a record changed since `baseRev`
 * is never overwritten; a failed commit changes nothing; values come back as they went in.
 */
export interface CaseStore {
	open(id: string): Answer<Opened>;
	/** Makes a folder whose first line holds these changes (all with `before: null`). */
	create(id: string, command: Omit<Command, 'baseRev'>, changes: readonly Change[]): Answer<Committed>;
	commit(id: string, command: Command, decision: Decision): Answer<Committed>;
	/**
	 * Runs `decide` on the present state, alone, and commits what it returns. `decide` is synchronous, must not
	 * keep or alter the state it is shown, and may run for a commit that later fails.
	 */
	change<R>(
		id: string,
		command: Command,
		decide: (state: Records, rev: number) => Result<Decision, R>
	): Answer<Committed, Refusal | OperationRefusal<R>>;
	/** Lines with from <= rev <= to, oldest first. */
	history(id: string, from?: number, to?: number): Answer<HistoryLine[]>;
	stateAt(id: string, rev: number): Answer<Records>;
	list(kind: string, options?: { archived?: boolean }): Promise<Listed[]>;
	/** Puts a folder away (nothing is deleted) and back. */
	archive(id: string): Answer<null>;
	unarchive(id: string): Answer<null>;
	/** Accepts the last good state of a damaged folder; what could not be read is set aside, never deleted. */
	restore(id: string, who: string): Answer<Committed & { report: string[] }>;
	/** Makes a folder from lines and files that came from elsewhere; the lines keep revisions and times. */
	adopt(
		id: string,
		lines: readonly HistoryLine[],
		files: ReadonlyMap<string, AsyncIterable<Uint8Array>>
	): Answer<Committed>;
	putFile(id: string, content: AsyncIterable<Uint8Array>, limits: FileLimits): Answer<StoredFile>;
	getFile(id: string, sha256: string): Answer<{ bytes: number; content: AsyncIterable<Uint8Array> }>;
	/** Something made from the folder's files, such as a thumbnail: kept, and made again if it is lost. */
	derived(id: string, name: string, make: () => Answer<Uint8Array>): Answer<Uint8Array>;
	hasFile(id: string, sha256: string): Promise<boolean>;
	listFiles(id: string): Answer<StoredFile[]>;
	/** Reads everything back: checksums, chain, replay against the present state, hash of every file. */
	verify(id: string): Answer<VerifyReport>;
	close(): Promise<void>;
}
