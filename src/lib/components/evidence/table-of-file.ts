/** One column of a table in a file, its values as they are written there. */
export interface Column {
	name: string;
	first: string;
	last: string;
	/** Null where it holds no numbers. */
	least: string | null;
	greatest: string | null;
	/** At most two points for each of so many stretches, least and greatest: peaks stay. From 0 to 1 both ways. */
	line: readonly (readonly [x: number, y: number])[];
}

const STRETCHES = 160;
/** Position record of an IGC log: time, place, pressure altitude, GNSS altitude (FAI, section A 4.1). */
const FIX = /^B(\d\d)(\d\d)(\d\d)\d{7}[NS]\d{8}[EW][AV]([-\d]\d{4})([-\d]\d{4})/;
const NUMBER = /^[-+]?\d+(\.\d+)?(e[-+]?\d+)?$/i;

/** What the table in a text holds, or null where there is none: lines with at least two numbers. */
export function tableOf(text: string): { rows: number; columns: Column[] } | null {
	const lines = text.split(/\r?\n/).filter((line) => line.trim() !== '');
	const fixes = lines.flatMap((line) => {
		const fix = FIX.exec(line);
		return fix ? [[`${fix[1]}:${fix[2]}:${fix[3]}`, String(Number(fix[4])), String(Number(fix[5]))]] : [];
	});
	if (fixes.length > 0)
		return {
			rows: fixes.length,
			columns: ['time, UTC', 'pressure altitude, m', 'GNSS altitude, m'].map((name, i) =>
				columnOf(
					name,
					fixes.map((fix) => fix[i]!)
				)
			)
		};
	const middle = lines[Math.floor(lines.length / 2)] ?? '';
	// Where a semicolon or a tab parts the cells, a comma may be the decimal point.
	const mark = [';', '\t', ','].find((one) => middle.split(one).length > 1) ?? ',';
	const cells = lines.map((line) =>
		line.split(mark).map((cell) => {
			const plain = cell.trim().replace(/^"(.*)"$/, '$1');
			return mark === ',' ? plain : plain.replace(/^([-+]?\d+),(\d+)$/, '$1.$2');
		})
	);
	const isRow = (row: readonly string[]) => row.filter((cell) => NUMBER.test(cell)).length > 1;
	const rows = cells.filter(isRow);
	if (rows.length < 2) return null;
	const heading = cells[cells.findIndex(isRow) - 1];
	const names = heading?.length === rows[0]!.length ? heading : [];
	return {
		rows: rows.length,
		columns: rows[0]!.map((_, i) =>
			columnOf(
				names[i]?.replace(/^#\s*/, '') || `column ${i + 1}`,
				rows.map((row) => row[i] ?? '')
			)
		)
	};
}

function columnOf(name: string, cells: readonly string[]): Column {
	const ends = { name, first: cells[0]!, last: cells.at(-1)! };
	const at = cells.flatMap((cell, i) => (NUMBER.test(cell) && Number.isFinite(Number(cell)) ? [i] : []));
	if (at.length === 0) return { ...ends, least: null, greatest: null, line: [] };
	const value = (i: number) => Number(cells[i]);
	const extremes = (among: readonly number[]) =>
		among.reduce(
			([low, high], i) => [value(i) < value(low) ? i : low, value(i) > value(high) ? i : high] as const,
			[among[0]!, among[0]!] as const
		);
	const [low, high] = extremes(at);
	const span = value(high) - value(low) || 1;
	const step = Math.ceil(at.length / STRETCHES);
	const line = at.flatMap((_, k) => {
		if (k % step > 0) return [];
		return [...new Set(extremes(at.slice(k, k + step)))].sort((a, b) => a - b);
	});
	return {
		...ends,
		least: cells[low]!,
		greatest: cells[high]!,
		line: line.map((i) => [i / Math.max(1, cells.length - 1), (value(i) - value(low)) / span] as const)
	};
}
