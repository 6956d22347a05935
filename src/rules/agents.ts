import { inWords } from '../library/names-in-words.js';

/** Words for what is used up in a step, in the languages of the tool, with the agents that each may be. */
const called: readonly (readonly [words: RegExp, agents: readonly string[]])[] = [
  [/\b(adhesive|glue|urethane)\b|\w*(kleber|klebstoff)\b/, ['adhesive']],
  [/\b(sealant|sealer|rtv|(liquid|silicone) gasket)\b|\w*(dichtmasse|dichtmittel|flüssigdichtung)\b/, ['sealant']],
  [/\bthread ?lock(er|ing)?\b|\bschrauben(sicherung|kleber)\b/, ['threadlocker']],
  [/\b(primer|activator)\b|\w*(grundierung|haftvermittler)\b/, ['primer']],
  [/\bsilicone (grease|paste)\b|\bsilikon(fett|paste)\b/, ['silicone-grease']],
  [/\b(copper (paste|grease)|anti ?seize)\b|\bkupferpaste\b/, ['copper-paste']],
  [/\b(ceramic (paste|grease))\b|\bkeramikpaste\b/, ['ceramic-paste']],
  [/\b(thermal|heat) (paste|compound)\b|\bwärmeleitpaste\b/, ['thermal-paste']],
  [/\b(grease)\b|\w*fett\b/, ['mineral-grease', 'silicone-grease']],
  [/\b(refrigerant|compressor|pag|poe) oil\b|\bkälte(maschinen|mittel)?öl\b/, ['refrigerant-oil']],
  [/\bengine oil\b|\bmotoröl\b/, ['engine-oil']],
  [/\bbrake cleaner\b|\bbremsenreiniger\b/, ['brake-cleaner']],
  [/\bcontact (cleaner|spray)\b|\bkontakt(spray|reiniger)\b/, ['contact-cleaner']],
  [/\b(solvent|thinner)\b|\b(lösemittel|verdünnung)\b/, ['solvent']],
  [/\bsoap\b|\bseife\b/, ['soap']],
];

/** The agents that something may be by its name or by what is said; none, if it says nothing of one. */
export function agentsCalled(words: string): readonly string[] {
  const said = inWords(words, undefined);
  return called.find(([pattern]) => pattern.test(said))?.[1] ?? none;
}

const none: readonly string[] = [];

/** The verb that says where an agent goes. */
export const verbOf = (agent: string): 'apply' | 'lubricate' | 'clean' =>
  /grease|oil|copper|ceramic/.test(agent) ? 'lubricate' : /cleaner|solvent|soap/.test(agent) ? 'clean' : 'apply';
