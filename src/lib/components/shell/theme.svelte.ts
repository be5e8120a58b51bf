export const THEMES = ['auto', 'light', 'dark', 'sun'] as const;
export type ThemeName = (typeof THEMES)[number];

export const isTheme = (name: string | undefined): name is ThemeName => THEMES.includes(name as ThemeName);

/** The theme of this browser; kept in a cookie so that the server already draws the first page in it. */
class Theme {
	chosen = $state<ThemeName>('auto');

	choose(name: string) {
		if (!isTheme(name)) return;
		this.chosen = name;
		if (name === 'auto') delete document.documentElement.dataset['theme'];
		else document.documentElement.dataset['theme'] = name;
		document.cookie = `theme=${name}; path=/; max-age=31536000; samesite=strict`;
	}
}

export const theme = new Theme();
