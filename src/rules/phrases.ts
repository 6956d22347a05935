import type { Step } from '../schema/generated/types.js';

/** Phrases in what a step says of which rules tell, each by what is wrong with it; in the languages of the tool. */
export const phrases = {
  /** Cannot be ticked or measured. */
  vague:
    /\b(as required|if necessary|if needed|good and tight|snug|torque to spec\w*|a bit|make sure|(?:nach|bei) bedarf|(?:falls|wenn) (?:nötig|notwendig|erforderlich)|gut fest(?:ziehen)?|nach vorschrift|ein wenig|sicherstellen, dass|darauf achten, dass)\b/i,
  /** Stand for steps that are not written. */
  reversed:
    /\b(reverse (order )?of removal|in reverse( order)?\b.*(assembl|refit|remov)|(re-?assemble|refit) in reverse|in umgekehrter reihenfolge|(einbau|zusammenbau|montage) (sinngemäß |erfolgt )?umgekehrt)/i,
  /** Point at a picture. */
  pointing:
    /\b(as shown|see (the )?(figure|picture|drawing|photo)|as in the (figure|picture)|siehe (abbildung|abb\b|bild|foto|zeichnung|skizze)|wie (abgebildet|gezeigt|(im|auf dem) (bild|foto)))\b/i,
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
