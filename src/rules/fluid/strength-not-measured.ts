import { isPouredBack } from '../../plan/plan.js';
import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fluid/strength-not-measured',
  severity: 'error',
  finds: 'A mixed fluid is drained before its strength is measured.',
  why: 'What stays in the system thins or strengthens what goes in; after draining nobody can measure it.',
  mend: "Put `measure:` of the fluid's `strength:` before the drain.",
  bad: {
    'vehicles/other-van.yaml':
      'kind: vehicle\nid: other-van\nname: Other van\nparts: { tap: { circuit: coolant } }\nmeasurements: { strength: { name: strength, unit: "%" } }\nfluids:\n  coolant: { name: battery coolant, spec: S-1, form: concentrate, item: coolant-ready, water: coolant-ready, target: 50 %, range: 45..55 %, strength: strength, capacity: 8 L, drains: [{ through: [tap], gives: 5 L }], waste: antifreeze }\n',
    'procedures/example.yaml':
      'kind: procedure\nid: example\nname: Example work\nfor: other-van\nsteps:\n  - open: tap\n  - drain: coolant # <-\nclose-up:\n  - close: tap\n  - fill: coolant\n',
  },
  good: procedure('steps:\n  - open: tap\n  - drain: coolant\nclose-up:\n  - close: tap\n  - fill: coolant\n'),
  check(context, tell) {
    for (const { plan } of context.plans) {
      const taken = new Set<string>();
      for (const planned of plan.steps) {
        if (planned.verb === 'measure') for (const object of planned.objects) taken.add(object);
        if (planned.verb !== 'drain') continue;
        for (const object of planned.objects) {
          const strength = planned.participant.scope.fluids.get(object)?.strength;
          if (strength && !taken.has(strength) && !isPouredBack(plan, object))
            tell({
              span: stepSpan(planned),
              message: `The strength of \`${object}\` is not measured before it is drained; what stays in would be unknown. Put \`measure: ${strength}\` before this step.`,
            });
        }
      }
    }
  },
};
