import { called } from '../../ledger/called.js';
import { asList } from '../../library/scope.js';
import type { PlanStep } from '../../plan/plan.js';
import { stepSpan } from '../context.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const profile = `${exampleLibrary['vehicles/sample-van.yaml']}charges:
  gas: { name: refrigerant, spec: X-1, item: coolant-ready, charge: 500 g, hazard: refrigerant, opened-after: [recovered] }
measurements:
  recovered: { name: refrigerant recovered, unit: g, with: station }
`;
const careful = '    warning: It freezes skin and eyes.\n    wear: [gloves, eyes]\n    qualification: refrigerants\n';
const work = (prove: string): Readonly<Record<string, string>> => ({
  'vehicles/sample-van.yaml': profile,
  'procedures/example.yaml': procedure(
    `parts: { receiver: { name: receiver, circuit: gas, seal: used-again } }\nsteps:\n  - drain: gas\n${careful}  - measure: recovered\n  - remove: receiver\n${careful}close-up:\n  - fit: receiver\n${prove}    qualification: refrigerants\n`,
  ),
});

export const rule: Rule = {
  name: 'fluid/not-proved-tight',
  severity: 'warning',
  finds: 'A circuit that was open is charged, and nobody has proved before that it is tight.',
  why: 'What leaks out is lost and does harm, and the vehicle comes back; local law may ask for the proof.',
  mend: 'Put a `test:` or a `measure:` (pressure, or vacuum that holds) between closing and charging.',
  bad: work('  - fill: gas # <-\n'),
  good: work('  - test: gas\n    says: Vacuum holds for 10 min.\n    qualification: refrigerants\n  - fill: gas\n'),
  check(context, tell) {
    for (const place of context.placesOf('fill')) {
      const { planned, before } = place;
      const { charges, parts } = planned.participant.scope;
      for (const object of planned.objects) {
        if (!charges.has(object)) continue;
        const closes = ({ verb, objects }: PlanStep) =>
          (verb === 'fit' || verb === 'close' || verb === 'connect') &&
          objects.some((one) => asList(parts.get(one)?.circuit).includes(object));
        const closed = before.findLastIndex(closes);
        if (closed < 0 || before.slice(closed).some(({ verb }) => verb === 'test' || verb === 'measure')) continue;
        tell({
          span: stepSpan(planned),
          about: object,
          message: `The circuit of ${called(planned, object)} was open, and no step between closing and charging it proves that it is tight. Put \`test: ${object}\`, or a \`measure:\` of a vacuum that holds, before this step. Local law on this charge comes first.`,
        });
      }
    }
  },
};
