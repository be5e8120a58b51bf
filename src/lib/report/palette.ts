/** Colours of a drawing, by what they say. */
export interface Palette {
	ink: string;
	ink2: string;
	rule: string;
	sheet: string;
	mark: string;
	wash: string;
	/** Evidence for and against; always with side and hatching as well. */
	for: string;
	against: string;
}

/** Colours that follow the page's theme. */
export const THEMED: Palette = {
	ink: 'var(--ink)',
	ink2: 'var(--ink-2)',
	rule: 'var(--rule-strong)',
	sheet: 'var(--sheet)',
	mark: 'var(--mark)',
	wash: 'var(--mark-wash)',
	for: 'var(--for)',
	against: 'var(--against)'
};

/** Colours for a file that stands alone. */
export const PRINTED: Palette = {
	ink: '#1d2630',
	ink2: '#4b5661',
	rule: '#a9aaa5',
	sheet: '#ffffff',
	mark: '#b5431f',
	wash: '#fbeee8',
	for: '#1f6b4f',
	against: '#7c3a6d'
};
