/** What may fail because of what a person typed: a value, or a refusal in words. */
export type Result<T, E = string> = { ok: true; value: T } | { ok: false; error: E };

export const ok = <T>(value: T): { ok: true; value: T } => ({ ok: true, value });
export const refuse = <E = string>(error: E): { ok: false; error: E } => ({ ok: false, error });
