import { inWords } from '../library/names-in-words.js';
import type { Scope } from '../library/scope.js';
import { once } from '../once.js';

const known = new WeakMap<object, boolean>();

/** What a vehicle has whose engine runs, by its names; in the languages of the tool. */
const ofEngines =
  /\b(engine|fuel|petrol|diesel|exhaust|crankshaft|spark plugs?|injectors?)\b|motoröl|kraftstoff|auspuff|kurbelwelle|zündkerze/;

/** Whether a vehicle has high voltage and, as far as its profile says, no engine that could run. */
export const isEngineless = ({ things, parts, fluids, charges }: Scope): boolean =>
  once(known, things, () => {
    const all = [parts, fluids, charges].flatMap((table) => [...table]);
    return all.some(([, { hazard }]) => hazard === 'high-voltage') && !all.some(([id, { name }]) => ofEngines.test(inWords(id, name)));
  });
