import { inWords } from '../library/names-in-words.js';
import { asList } from '../library/scope.js';
import type { FastenerInPlace } from './context.js';

/** What is screwed in and is no bolt or nut, by its name; in the languages of the tool. Common practice, no source. */
const screwedIn =
  /\b(plugs?|sensors?|probes?|switch(es)?|unions?|pipes?|banjos?|bleeders?|nipples?|injectors?)\b|kerzen?\b|sonde|f(ü|ue)hler|geber\b|(ü|ue)berwurf|hohlschraube|entl(ü|ue)ft|stopfen\b|(ablass|einf(ü|ue)ll|verschluss)schraube/;

/** What of that only has to keep tight. */
const plug =
  /\b(plugs?|sensors?|probes?|switch(es)?)\b|kerzen?\b|sonde|f(ü|ue)hler|geber\b|stopfen\b|(ablass|einf(ü|ue)ll|verschluss)schraube/;

/** What holds one of them, or something beside it. */
const holding =
  /\b(bolts?|nuts?|screws?|studs?|clamps?|brackets?|covers?)\b|mutter|klammer|halter|deckel|(?<!ablass|einf(?:ü|ue)ll|verschluss)schraube/;

/** Whether a group is called so, or all the parts that it holds are. */
function isCalled(
  { id, group, document: { parts = {} } }: FastenerInPlace,
  is: (id: string, name: string | undefined) => boolean,
): boolean {
  if (is(id, group.name)) return true;
  const held = Object.entries(parts).filter(([, { fasteners }]) => asList(fasteners).includes(id));
  return held.length > 0 && held.every(([part, { name }]) => is(part, name));
}

/** Whether what is tightened is screwed in to shut or to sit: it has a head of its own. */
export const isScrewedIn = (place: FastenerInPlace): boolean => isCalled(place, (id, name) => screwedIn.test(inWords(id, name)));

/** Whether it only has to keep tight, and loads no bolt: little torque is usual for it. */
export const isPlug = (place: FastenerInPlace): boolean =>
  isCalled(place, (id, name) => {
    const words = inWords(name ?? id, undefined);
    return plug.test(words) && !holding.test(words);
  });
