import { isWhole } from '../../library/written.js';
import { spanOf } from '../../schema/origin.js';
import { exampleLibrary } from '../example-library.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'source/none',
  severity: 'warning',
  looksAt: 'vehicles',
  finds: 'Torques of a vehicle profile whose source nobody can trace.',
  why: 'A figure that nobody can look up again cannot be defended.',
  mend: 'Write `source:` for the profile or for the group.',
  bad: {
    'vehicles/sample-van.yaml': (exampleLibrary['vehicles/sample-van.yaml'] ?? '')
      .replace('source: { document: Sample book }\n', '')
      .replace('id: sample-van', 'id: sample-van # <-'),
  },
  good: { 'vehicles/sample-van.yaml': exampleLibrary['vehicles/sample-van.yaml'] ?? '' },
  check(context, tell) {
    for (const vehicle of context.vehicles) {
      const untraced = Object.entries(vehicle.fasteners ?? {}).filter(([, group]) => group.stages && !group.source);
      if (!vehicle.source && isWhole(vehicle, 'source') && untraced.length > 0)
        tell({
          span: spanOf(vehicle, 'id'),
          message: `Nobody can tell where the torques of \`${vehicle.id}\` come from (${untraced.length} groups). Write \`source: { document: …, edition: … }\` for the profile, or for each group.`,
        });
    }
  },
};
