import type { VerbName } from '../../ledger/verbs.js';
import { asList } from '../../library/scope.js';
import type { PlanStep } from '../../plan/plan.js';
import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import { hazardousIn } from '../dangers.js';
import type { Rule } from '../rule.js';
import { lettingOut } from '../steps.js';

/** Work that law or the maker keeps for those licensed or trained; local law decides. */
const regulated: ReadonlySet<string> = new Set(['refrigerant', 'high-voltage', 'restraint', 'gas']);

/** What makes a step regulated work: opening, emptying or filling something that is; also when it is empty. */
function regulatedIn({ objects, participant: { scope } }: PlanStep): { readonly object: string; readonly hazard: string } | undefined {
  const { parts, fluids, charges } = scope;
  for (const object of objects) {
    if (!hazardousIn(scope).has(object)) continue;
    const part = parts.get(object);
    const circuits = [object, ...asList(part?.circuit)];
    for (const hazard of [part?.hazard, ...circuits.map((name) => fluids.get(name)?.hazard ?? charges.get(name)?.hazard)])
      if (hazard && regulated.has(hazard)) return { object, hazard };
  }
  return undefined;
}

/** What opens, empties or fills something. */
const handling: readonly VerbName[] = [...lettingOut, 'fill'];

const line = 'parts: { line: { name: gas line, hazard: gas, opened-after: [ignition-off] } }\n';
const tested = '  - test: line\n    says: Leak spray; no bubbles.\n';
const caution = '    warning: Gas burns. No flame, no spark.\n    wear: [gloves, eyes]\n';

export const rule: Rule = {
  name: 'hazard/no-qualification',
  severity: 'error',
  finds: 'Regulated work without the qualification that it asks for.',
  why: 'Refrigerant, high voltage, restraints and gas are for those licensed or trained for them.',
  mend: 'Write `qualification:` with the name in the shop’s register.',
  bad: procedure(`${line}steps:\n  - wait: ignition-off\n  - remove: line # <-\n${caution}close-up:\n  - fit: line\n${tested}`),
  good: procedure(
    `${line}steps:\n  - wait: ignition-off\n  - remove: line\n${caution}    qualification: gas fitter\nclose-up:\n  - fit: line\n${tested}`,
  ),
  check(context, tell) {
    for (const { planned } of context.placesOf(handling)) {
      const found = planned.step.qualification ? undefined : regulatedIn(planned);
      if (found)
        tell({
          span: stepSpan(planned),
          message: `\`${found.object}\` is regulated work (${found.hazard}). Write \`qualification:\` on this step: who signs it must have it.`,
        });
    }
  },
};
