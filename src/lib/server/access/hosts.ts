import { isIPv6 } from 'node:net';

/** One address and port that the server listens on. Whoever comes through an open door must be paired. */
export interface Door {
	address: string;
	port: number;
	open: boolean;
}

/** The one name under which pages are served at a door, as it stands in a Host header. */
export function hostOf({ address, port }: Door): string {
	const name = isIPv6(address) ? `[${address}]` : address;
	return port === 80 ? name : `${name}:${port}`;
}

export function originOf(door: Door): string {
	return `http://${hostOf(door)}`;
}

/**
 * Whether a Host header names this door ('own'), names this machine in another way ('alias', to be redirected so
 * that there is one origin only), or something else ('foreign': another site's name that points here, which is
 * how DNS rebinding begins).
 */
export function judgeHost(host: string | undefined, door: Door): 'own' | 'alias' | 'foreign' {
	const name = host?.toLowerCase();
	if (name === hostOf(door)) return 'own';
	const port = door.port === 80 ? '' : `:${door.port}`;
	if (!door.open && (name === `localhost${port}` || name === `[::1]${port}`)) return 'alias';
	return 'foreign';
}

/** Whether a socket's remote address is this machine itself. */
export function isLoopback(address: string | undefined): boolean {
	return address !== undefined && /^(::1|(::ffff:)?127\.\d+\.\d+\.\d+)$/.test(address);
}
