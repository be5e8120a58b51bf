/** Comma-separated values: quoted where they must be, and never taken for a formula by a spreadsheet. */
export function csv(rows: readonly (readonly (string | number | null)[])[]): string {
	return rows.map((row) => row.map(cell).join(',') + '\n').join('');
}

function cell(value: string | number | null): string {
	if (value === null) return '';
	if (typeof value === 'number') return String(value);
	const text = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
	return /[",\n\r;]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text;
}
