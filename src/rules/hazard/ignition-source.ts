import { called } from '../../ledger/called.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import { firstFound, type PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { deadSince, isOpenAt, lettingOut } from '../steps.js';

const tankOff = (before: string, after: string, mark = ''): string =>
  procedure(`parts: { fuel-tank: { name: fuel tank, hazard: flammable } }
steps:
${before}  - remove: fuel-tank${mark}
    warning: Vapour burns. Nothing that sparks, extinguisher at hand, doors open.
    wear: [gloves, eyes]
close-up:
  - fit: fuel-tank
${after}`);

export const rule: Rule = {
  name: 'hazard/ignition-source',
  severity: 'warning',
  finds: 'Something flammable is let out while the vehicle has current: the ignition is not off, nor the battery.',
  why: 'A relay, a pump or a lamp that switches is the spark; vapour lies on the floor and finds it.',
  mend: 'Put `switch-off: ignition` before, or need `battery-isolated`.',
  bad: tankOff('', '', ' # <-'),
  good: tankOff('  - switch-off: ignition\n', '  - switch-on: ignition\n'),
  check(context, tell) {
    for (const { place, object, kind: name } of firstFound(context.placesOf(lettingOut), sparked)) {
      const { plan, planned } = place;
      const burns =
        name === object
          ? `${called(planned, object)} is flammable, and is opened or let out here`
          : `${called(planned, object)} lets ${called(planned, name)} out here, which is flammable,`;
      tell({
        span: spanOfObject(plan, planned, object),
        about: object,
        message: `${burns} while neither the ignition nor the battery is off. Put \`switch-off: ignition\` before this step, or need \`battery-isolated\`.`,
      });
    }
  },
};

/** What is flammable in it, where the vehicle has current. */
function sparked(place: PlanPlace, object: string): false | readonly string[] {
  const flammable = place.dangers.filter((one) => one.object === object && one.source.hazard === 'flammable');
  return flammable.length > 0 && deadSince(place) < 0 && !isOpenAt(place, 'ignition') && flammable.map(({ name }) => name);
}
