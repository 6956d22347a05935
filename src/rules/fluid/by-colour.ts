import { spanOf } from '../../schema/origin.js';
import { exampleLibrary } from '../example-library.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fluid/by-colour',
  severity: 'warning',
  looksAt: 'vehicles',
  finds: 'A fluid that is specified by its colour.',
  why: 'Colours differ from maker to maker and fade.',
  mend: 'Write the specification.',
  bad: { 'vehicles/sample-van.yaml': (exampleLibrary['vehicles/sample-van.yaml'] ?? '').replace('spec: S-1', 'spec: the pink one # <-') },
  good: { 'vehicles/sample-van.yaml': (exampleLibrary['vehicles/sample-van.yaml'] ?? '').replace('spec: S-1', 'spec: S-2') },
  check(context, tell) {
    for (const vehicle of context.vehicles)
      for (const [id, fluid] of Object.entries(vehicle.fluids ?? {}))
        if (fluid.spec && /\b(red|green|blue|pink|yellow|orange|violet|purple)\b/i.test(fluid.spec))
          tell({
            span: spanOf(fluid, 'spec'),
            message: `\`${id}\` is specified by a colour (“${fluid.spec}”). Write the specification; colours say nothing about what may be mixed.`,
          });
  },
};
