import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import { dangersOf, stepsOfPlans } from '../steps.js';
import type { Rule } from '../rule.js';

/** Work that law or the maker keeps for those licensed or trained; local law decides. */
const regulated = new Set(['refrigerant', 'high-voltage', 'restraint', 'gas']);

export const rule: Rule = {
  name: 'hazard/no-qualification',
  severity: 'error',
  finds: 'Regulated work without the qualification that it asks for.',
  why: 'Refrigerant, high voltage, restraints and gas are for those licensed or trained for them.',
  mend: 'Write `qualification:` with the name in the shop’s register.',
  bad: procedure(`parts: { line: { name: gas line, hazard: gas, opened-after: [ignition-off] } }
steps:
  - wait: ignition-off
  - remove: line # <-
    warning: Gas burns. No flame, no spark.
    wear: [gloves, eyes]
close-up:
  - fit: line
`),
  good: procedure(`parts: { line: { name: gas line, hazard: gas, opened-after: [ignition-off] } }
steps:
  - wait: ignition-off
  - remove: line
    warning: Gas burns. No flame, no spark.
    wear: [gloves, eyes]
    qualification: gas fitter
close-up:
  - fit: line
`),
  *check(context) {
    for (const { planned, before } of stepsOfPlans(context)) {
      const found = dangersOf(planned, before).find(({ source }) => regulated.has(source.hazard ?? ''));
      if (found && !planned.step.qualification)
        yield {
          span: stepSpan(planned),
          message: `\`${found.object}\` is regulated work (${found.source.hazard}). Write \`qualification:\` on this step: who signs it must have it.`,
        };
    }
  },
};
