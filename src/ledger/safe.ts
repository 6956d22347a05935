import { asList, type Scope } from '../library/scope.js';
import type { Part } from '../schema/generated/types.js';
import type { Line } from './ledger.js';
import type { Pair } from './verbs.js';

/** Whether a part that is on and not tight comes off by itself: a wheel that turns, what carries something, a heavy thing from beneath. */
const comesOff = (part: Part | undefined): boolean =>
  part !== undefined && (part.role === 'wheel' || part.carries !== undefined || (part.beneath === true && part.mass !== undefined));

/**
 * Whether a vehicle may be left with these lines open: nothing held by a jack or a compressor, nothing running, nothing that
 * comes off by itself on and not tight, no opening of a circuit from which the fluid has not come out yet. A vehicle stands on
 * its lift; what else is raised, as an axle, must stand on something (common practice, no source).
 * @param loose parts that are on and not tight
 */
export function safeToLeave(open: readonly Line[], loose: readonly string[], scope: Scope, running: boolean): boolean {
  if (running || loose.some((part) => comesOff(scope.parts.get(part)))) return false;
  const isOpen = (pair: Pair, object: string): boolean => open.some((line) => line.pair === pair && line.object === object);
  return !open.some((line) => {
    if (line.pair === 'compress') return true;
    if (line.pair === 'loosen') return comesOff(line.part);
    if (line.pair === 'support') return !isOpen('raise', line.object);
    if (line.pair === 'raise') return line.object !== 'vehicle' && !isOpen('support', line.object);
    const part = scope.parts.get(line.object);
    if (line.pair !== 'open' || part?.role === 'fill-point') return false;
    return asList(part?.circuit).some((circuit) => scope.fluids.has(circuit) && !isOpen('drain', circuit));
  });
}
