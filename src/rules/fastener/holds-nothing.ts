import { asList } from '../../library/scope.js';
import { nearest } from '../../findings/suggest.js';
import { isDamaged, spanOf } from '../../schema/origin.js';
import { exampleLibrary } from '../example-library.js';
import type { Rule } from '../rule.js';

const van = exampleLibrary['vehicles/sample-van.yaml'] ?? '';

export const rule: Rule = {
  name: 'fastener/holds-nothing',
  severity: 'warning',
  looksAt: 'vehicles',
  finds: 'A fastener group of a profile that no part of it has.',
  why: 'Tightening is owed to the part that goes on; of a group that holds nothing, nobody misses it.',
  mend: 'Name it in `fasteners:` of the part that it holds. Nuts that only set an end play hold nothing.',
  bad: {
    'vehicles/sample-van.yaml': van
      .replace('behind: [cover], fasteners: pump-bolts', 'behind: [cover]')
      .replace(/( {2}pump-bolts:.*)/, '$1 # <-'),
  },
  good: { 'vehicles/sample-van.yaml': van },
  check(context, tell) {
    for (const vehicle of context.vehicles) {
      const parts = Object.values(vehicle.parts ?? {});
      if (isDamaged(vehicle) || parts.some((part) => isDamaged(part))) continue;
      const held = new Set(parts.flatMap((part) => asList(part.fasteners)));
      const groups = vehicle.fasteners ?? {};
      // A part may hold on to one by a name that is misspelt.
      const meant = new Set([...held].flatMap((name) => (Object.hasOwn(groups, name) ? [] : (nearest(name, Object.keys(groups)) ?? []))));
      for (const [id, group] of Object.entries(groups))
        if (!held.has(id) && !meant.has(id) && !group['end-play'])
          tell({
            span: spanOf(groups, id, 'key'),
            message: `\`${id}\` holds no part of this profile: when nobody tightens it, nothing is missed. Write \`fasteners: ${id}\` on the part that it holds.`,
          });
    }
  },
};
