import type { Step } from '../schema/generated/types.js';

/** Phrases in what a step says of which rules tell, each by what is wrong with it. */
export const phrases = {
  /** Cannot be ticked or measured. */
  vague: /\b(as required|if necessary|if needed|good and tight|snug|torque to spec\w*|a bit|make sure)\b/i,
  /** Stand for steps that are not written. */
  reversed: /\b(reverse (order )?of removal|in reverse( order)?\b.*(assembl|refit|remov)|(re-?assemble|refit) in reverse)/i,
  /** Point at a picture. */
  pointing: /\b(as shown|see (the )?(figure|picture|drawing|photo)|as in the (figure|picture))\b/i,
};

const any = new RegExp(
  Object.values(phrases)
    .map(({ source }) => source)
    .join('|'),
  'i',
);

export interface Phrased {
  readonly step: Step;
  readonly says: string;
}

/** Those of some steps that say any of these: few do, so all texts are searched once and not by each rule. */
export function phrasedIn(steps: readonly { readonly step: Step }[]): readonly Phrased[] {
  const found: Phrased[] = [];
  for (const { step } of steps) if (step.says && any.test(step.says)) found.push({ step, says: step.says });
  return found;
}
