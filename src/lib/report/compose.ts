import { INSERT } from './text';

/**
 * Puts figures, pictures and anchors into HTML that has been sanitised; the fences around their names can't come from
 * anybody's text. A place for which nothing is given is left out.
 * @param inserts  HTML of our own making by name ('figure:plan', 'picture:<id>')
 */
export function compose(html: string, inserts: Readonly<Record<string, string>>): string {
	return html.replace(INSERT, (_, open: string | undefined, name: string, close: string | undefined) => {
		const alone = open !== undefined && close !== undefined;
		const put = name.startsWith('at:')
			? `<span class="at" id="${name.slice(3)}"></span>`
			: (inserts[name] ?? '');
		return alone ? put : `${open ?? ''}${put}${close ?? ''}`;
	});
}
