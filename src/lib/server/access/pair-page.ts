const escapes: Record<string, string> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
const escape = (text: string) => text.replace(/[&<>"]/g, (c) => escapes[c] ?? c);

/**
 * The one page that an unpaired device sees. It stands alone, without script or assets, because everything else
 * lies behind the pairing.
 * @param action where the form goes
 * @param problem what was wrong with the last try, in words
 * @param nonce for its style element
 */
export function pairPage(action: string, problem: string | undefined, nonce: string): string {
	const wrong = problem === undefined ? '' : `<p id="problem" role="alert">${escape(problem)}</p>`;
	const described = problem === undefined ? 'how' : 'how problem';
	return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>Pair this device · Witness Mark</title>
<style nonce="${nonce}">
:root { --paper: #f6f5f0; --sheet: #fdfcf9; --ink: #1d2630; --rule: #6b7480; --act: #14566b; --on-act: #fff; --wrong: #8f2f14 }
@media (prefers-color-scheme: dark) { :root { --paper: #14181d; --sheet: #1b2027; --ink: #e6e4dc; --rule: #8b94a0; --act: #7fc4d8; --on-act: #10161b; --wrong: #f0a488 } }
* { box-sizing: border-box }
body { margin: 0; background: var(--paper); color: var(--ink); font: 17px/1.5 "Atkinson Hyperlegible Next", system-ui, sans-serif }
main { max-width: 26rem; margin: 12vh auto 0; padding: 0 1.25rem }
h1 { margin: 0 0 .5rem; font-size: 1.5rem; line-height: 1.25 }
label { display: block; margin-top: 1.5rem; font-weight: 600 }
input { width: 100%; margin-top: .25rem; padding: .6rem .75rem; border: 1px solid var(--rule); border-radius: 3px; background: var(--sheet); color: inherit; font: 1.5rem/1.2 ui-monospace, monospace; letter-spacing: .08em; text-transform: uppercase }
button { width: 100%; min-height: 3rem; margin-top: 1rem; border: 0; border-radius: 3px; background: var(--act); color: var(--on-act); font: inherit; font-weight: 600 }
:focus-visible { outline: 3px solid var(--act); outline-offset: 2px }
#problem { color: var(--wrong); font-weight: 600 }
</style>
</head>
<body>
<main>
<h1>Pair this device with Witness Mark</h1>
<p id="how">The code stands on the computer that runs Witness Mark: in the window where it was started, and at the top of every page there.</p>
${wrong}<form method="post" action="${escape(action)}">
<label for="code">Pairing code</label>
<input id="code" name="code" required autofocus autocomplete="off" autocapitalize="characters" spellcheck="false" aria-describedby="${described}">
<button>Pair this device</button>
</form>
</main>
</body>
</html>
`;
}
