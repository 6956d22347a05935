import { clampsGasket } from '../../ledger/joints.js';
import { spoken } from '../../library/scope.js';
import type { PlanStep } from '../../plan/plan.js';
import { isDamaged } from '../../schema/origin.js';
import { type RuleContext, stepSpan } from '../context.js';
import type { PlanPlace } from '../places.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const lid = (decision: string): string =>
  procedure(
    `parts: { lid: { name: lid, fasteners: lid-bolts${decision} } }\nfasteners: { lid-bolts: { count: 4, thread: M6, class: "8.8", drive: 10 AF, reuse: always, threads: dry, gasket: true, sequence: star, stages: [{ torque: 9 N·m }] } }\nsteps:\n  - remove: lid\n  - clean: lid-face\nclose-up:\n  - fit: lid${decision === '' ? ' # <-' : ''}\n  - tighten: lid\n`,
  );

/** Gaskets that are parts of their own, where they are put in. */
interface Gaskets {
  readonly place: PlanPlace;
  readonly names: readonly string[];
}

const puttingIn = ['fit', 'renew'] as const;

const gasketsIn = (context: RuleContext): readonly Gaskets[] =>
  context
    .placesOf(puttingIn)
    .map((place) => ({ place, names: gasketsOf(place.planned) }))
    .filter(({ names }) => names.length > 0);

const gasketsOf = ({ objects, participant: { scope } }: PlanStep): readonly string[] =>
  objects.filter((object) => /gasket|seal|o-ring|washer/i.test(`${object} ${spoken(scope, object)}`));

/** Whether the same document has put a gasket there before. */
const hasGasket = (place: PlanPlace, gaskets: readonly Gaskets[]): boolean =>
  gaskets.some(
    (one) =>
      one.place.plan === place.plan &&
      one.place.index < place.index &&
      one.place.planned.participant.document === place.planned.participant.document &&
      one.names.some((name) => !place.planned.objects.includes(name)),
  );

export const rule: Rule = {
  name: 'parts/no-seal-decision',
  severity: 'error',
  finds: 'A gasketed joint that goes together and nobody says whether its seal is new, used again, or none.',
  why: 'The old gasket goes back, or two lie on each other.',
  mend: 'Write `seals:` on the part with what is new each time, or `seal: used-again` or `seal: none`.',
  bad: lid(''),
  good: lid(', seal: used-again'),
  check(context, tell) {
    let gaskets: readonly Gaskets[] | undefined;
    for (const place of context.placesOf('fit')) {
      const { plan, planned } = place;
      const { scope } = planned.participant;
      for (const object of planned.objects) {
        const part = scope.parts.get(object);
        if (!part || part.seals || part.seal || !clampsGasket(scope, object, plan.facts) || isDamaged(part)) continue;
        gaskets ??= gasketsIn(context);
        if (hasGasket(place, gaskets)) continue;
        tell({
          span: stepSpan(planned),
          message: `\`${object}\` clamps a gasket, and nothing says whether that is new. Write \`seals:\` on the part with what is new each time, or \`seal: used-again\`, or \`seal: none\`.`,
        });
      }
    }
  },
};
