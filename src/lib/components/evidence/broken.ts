/** Attachment of an image: tells when its bytes turn out not to be a picture, also where that was before the page woke. */
export const whenBroken = (tell: () => void) => (image: HTMLImageElement) => {
	if (image.complete && image.naturalWidth === 0) tell();
	image.addEventListener('error', tell);
	return () => image.removeEventListener('error', tell);
};
