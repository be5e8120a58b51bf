/** Words of each of the three scales that never share a sentence. */
const SCALES = {
	evidence:
		/\b(no support either way|(weak|moderate|moderately strong|strong|very strong|extremely strong) support)\b/i,
	probability:
		/\b(almost no chance|(very )?(un)?likely|roughly even chance|almost certain|impossible|certain)\b/i,
	basis: /\b(confidence|basis)\b.{0,20}\b(high|moderate|low)\b|\b(high|moderate|low) (confidence|basis)\b/i
};

/** Which of the scales a sentence uses. */
export const scalesOf = (sentence: string): string[] =>
	Object.entries(SCALES).flatMap(([scale, words]) => (words.test(sentence) ? [scale] : []));
