import { asList, type Scope } from '../library/scope.js';
import type { Line } from './ledger.js';

/**
 * Whether a vehicle may be left with these lines open: nothing held by a jack or a compressor, nothing running, no
 * opening of a circuit from which the fluid has not come out yet.
 */
export function safeToLeave(open: readonly Line[], scope: Scope, running: boolean): boolean {
  if (running) return false;
  return !open.some((line) => {
    if (line.pair === 'support' || line.pair === 'compress') return true;
    const part = scope.parts.get(line.object);
    if (line.pair !== 'open' || part?.role === 'fill-point') return false;
    return asList(part?.circuit).some(
      (circuit) => scope.fluids.has(circuit) && !open.some((other) => other.pair === 'drain' && other.object === circuit),
    );
  });
}
