import { didYouMean } from '../../findings/suggest.js';
import { renameFix } from '../../findings/fixes.js';
import { asList, isNamed, isTableLost, type NameKind, namesToAsk, type Scope, tableOf } from '../../library/scope.js';
import type { VehicleDocument } from '../../library/document.js';
import type { Plan, PlanStep } from '../../plan/plan.js';
import { isWritten } from '../../schema/origin.js';
import { spanOfObject } from '../context.js';
import { lookBehindTheCover, procedure } from '../examples.js';
import { withoutFigure } from '../figures.js';
import { kindCalled, ofAnotherKind } from '../other-kind.js';
import { type Slips, slipsIn } from '../slips.js';
import type { Found, Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/unknown-name',
  severity: 'error',
  finds: 'A part, fluid, fastener group, temporary item, measurement or choice that neither the vehicle profile nor the document declares.',
  why: 'A name that is one letter off has no torque, no gasket and no place in the ledger.',
  mend: 'Correct the name, or declare it.',
  bad: procedure('measurements: { height: { name: height, unit: mm } }\nsteps:\n  - measure: hieght # <-\n'),
  good: procedure(lookBehindTheCover),
  check(context, tell) {
    for (const { plan } of context.plans) {
      // Most steps that follow each other see the same names.
      let known: { readonly scope: Scope; readonly slips: Slips } | undefined;
      for (const planned of plan.steps) {
        const kinds = planned.does.objects;
        const { scope } = planned.participant;
        // Without a vehicle nobody knows what it has.
        if (!scope.vehicle) continue;
        if (kinds === 'free') {
          if (known?.scope !== scope) known = { scope, slips: slipsIn(scope) };
          for (const object of planned.objects) {
            const name = known.slips.meantBy(object);
            if (name !== undefined) tell(slip(plan, planned, object, name));
          }
          continue;
        }
        for (const object of planned.objects) {
          const found =
            isNamed(scope, kinds, object) || object === planned.does.whole ? null : unknown(plan, planned, object, kinds, scope.vehicle);
          if (found) tell(found);
        }
      }
    }
  },
};

/** What there is to tell of a name that stands for nothing. */
function unknown(plan: Plan, planned: PlanStep, object: string, kinds: readonly NameKind[], vehicle: VehicleDocument): Found | null {
  const { scope, document } = planned.participant;
  // Written, and not readable: that is told where it stands.
  const mayBe = (one: object, kind: NameKind) => isWritten(tableOf(one, kind), object) || isTableLost(one, kind);
  if (kinds.some((kind) => mayBe(vehicle, kind) || mayBe(document, kind))) return null;
  const span = spanOfObject(plan, planned, object);
  const bare = withoutFigure(object);
  if (bare !== null && isNamed(scope, kinds, bare))
    return {
      span,
      message: `\`${object}\` is a name with a figure. Write \`${planned.verb}: ${bare}\`; the figure stands once, with what it belongs to in the profile.`,
    };
  const other = ofAnotherKind(scope, planned.verb, kinds, object);
  if (other !== null) return { span, message: other };
  const known = namesToAsk(scope, kinds);
  return {
    span,
    fix: renameFix(span, object, known),
    message: `\`${object}\` is not a ${kinds.map((kind) => kindCalled[kind]).join(' or ')} of the profile of \`${vehicle.id}\`.${didYouMean(object, known)} Correct the name, or declare it under \`${kinds[0] === 'fastener' ? 'fasteners' : kinds[0] === 'temporary' ? 'temporaries' : `${kinds[0]}s`}:\`.${unlessTold(planned, object)}`,
  };
}

/** What a parameter stands for by itself can be told otherwise where its preparation is needed. */
function unlessTold({ step, verb, participant: { document } }: PlanStep, object: string): string {
  const params = document.kind === 'preparation' ? Object.entries(document.params ?? {}) : [];
  const [name] = params.find(([one, { default: usual }]) => asList(step[verb]).includes(`$${one}`) && asList(usual).includes(object)) ?? [];
  return name === undefined
    ? ''
    : ` If it is called otherwise on this vehicle, say so where the preparation is needed: \`${document.id}: { ${name}: NAME }\`.`;
}

const slip = (plan: Plan, planned: PlanStep, object: string, name: string): Found => ({
  span: spanOfObject(plan, planned, object),
  severity: 'warning',
  message: `\`${object}\` is nothing that is known here. Did you mean \`${name}\`? ${
    planned.gate ? 'What must be closed before it is looked for by this name.' : 'The paper says it as it is written here.'
  }`,
});
