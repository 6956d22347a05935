import { inWords } from '../library/names-in-words.js';
import { asList } from '../library/scope.js';
import type { FastenerInPlace } from './context.js';

/** By its name; in the languages of the tool. Common practice, no source. */
const names =
  /\b(plugs?|sensors?|probes?|switch(es)?|unions?|pipes?|banjos?|bleeders?|nipples?|injectors?)\b|kerzen?\b|sonde|f(ü|ue)hler|geber\b|(ü|ue)berwurf|hohlschraube|entl(ü|ue)ft|schrauben?stopfen|stopfen\b|(ablass|einf(ü|ue)ll|verschluss)schraube/;

/** Whether what is tightened is screwed in to shut or to sit, and holds nothing together: it has a head and a torque of its own. */
export function isScrewedIn({ id, group, document: { parts = {} } }: FastenerInPlace): boolean {
  if (names.test(inWords(id, group.name))) return true;
  const held = Object.entries(parts).filter(([, { fasteners }]) => asList(fasteners).includes(id));
  return held.length > 0 && held.every(([part, { name }]) => names.test(inWords(part, name)));
}
