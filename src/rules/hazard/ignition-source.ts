import { called } from '../../ledger/called.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import { firstOfEach, type PlanPlace } from '../places.js';
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
    const found: { readonly place: PlanPlace; readonly kind: string; readonly object: string }[] = [];
    for (const place of context.placesOf(lettingOut))
      for (const { object, name, source } of place.dangers)
        if (source.hazard === 'flammable' && deadSince(place) < 0 && !isOpenAt(place, 'ignition'))
          found.push({ place, kind: name, object });
    for (const { place, object } of firstOfEach(found)) {
      const { plan, planned } = place;
      tell({
        span: spanOfObject(plan, planned, object),
        about: object,
        message: `${called(planned, object)} is flammable and is let out or opened here, and neither the ignition nor the battery is off. Put \`switch-off: ignition\` before this step, or need \`battery-isolated\`.`,
      });
    }
  },
};
