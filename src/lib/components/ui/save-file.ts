/** Hands a person a file that the page made. */
export function saveFile(content: string, type: string, name: string) {
	const address = URL.createObjectURL(new Blob([content], { type }));
	const link = document.createElement('a');
	link.href = address;
	link.download = name;
	link.click();
	URL.revokeObjectURL(address);
}
