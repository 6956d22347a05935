import { asList, type Scope } from '../library/scope.js';
import type { Part } from '../schema/generated/types.js';
import type { Line } from './ledger.js';
import type { Pair } from './verbs.js';

/** What burns when it drips or leaks from a joint. */
const burns: ReadonlySet<Part['hazard']> = new Set<Part['hazard']>(['flammable', 'fuel-pressure', 'gas']);

/**
 * Whether a part must not stay on and not tight: it comes off by itself (a wheel that turns, what carries something, a heavy
 * thing from beneath), or fuel or gas comes out of it, and who sees it on takes it for done.
 */
const mustNotStay = (part: Part | undefined): boolean =>
  part !== undefined &&
  (part.role === 'wheel' || part.carries !== undefined || (part.beneath === true && part.mass !== undefined) || burns.has(part.hazard));

/**
 * Whether a vehicle may be left with these lines open: nothing held by a jack or a compressor, nothing running, nothing on and
 * not tight that comes off by itself or burns, no opening of a circuit from which the fluid has not come out yet. A vehicle
 * stands on its lift; what else is raised, as an axle, must stand on something (common practice, no source).
 * @param loose parts that are on and not tight
 */
export function safeToLeave(open: readonly Line[], loose: readonly string[], scope: Scope, running: boolean): boolean {
  if (running || loose.some((part) => mustNotStay(scope.parts.get(part)))) return false;
  const isOpen = (pair: Pair, object: string): boolean => open.some((line) => line.pair === pair && line.object === object);
  return !open.some((line) => {
    if (line.pair === 'compress') return true;
    if (line.pair === 'loosen') return mustNotStay(line.part);
    if (line.pair === 'support') return !isOpen('raise', line.object);
    if (line.pair === 'raise') return line.object !== 'vehicle' && !isOpen('support', line.object);
    const part = scope.parts.get(line.object);
    if (line.pair !== 'open' || part?.role === 'fill-point') return false;
    return asList(part?.circuit).some((circuit) => scope.fluids.has(circuit) && !isOpen('drain', circuit));
  });
}
