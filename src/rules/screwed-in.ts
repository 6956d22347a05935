import { inWords } from '../library/names-in-words.js';

/** By its name; in the languages of the tool. Common practice, no source. */
const names =
  /\b(plugs?|sensors?|probes?|switch(es)?|unions?|pipes?|banjos?|bleeders?|nipples?|injectors?)\b|kerzen?\b|sonde|f(ü|ue)hler|geber\b|(ü|ue)berwurf|hohlschraube|entl(ü|ue)ft|schrauben?stopfen|stopfen\b|(ablass|einf(ü|ue)ll|verschluss)schraube/;

/** Whether what is tightened is screwed in to shut or to sit, and holds nothing together: it has a head and a torque of its own. */
export const isScrewedIn = (id: string, name: string | undefined): boolean => names.test(inWords(id, name));
