import { didYouMeanThing } from '../../findings/suggest.js';
import { renameFix } from '../../findings/fixes.js';
import { asList, isNamed, mayDeclare, namesToAsk, tableOf } from '../../library/scope.js';
import { once } from '../../once.js';
import { asWritten, type Plan, type PlanStep, type Unnamed } from '../../plan/plan.js';
import { isPlaced, spanOf } from '../../schema/origin.js';
import { spanOfObject } from '../context.js';
import { lookBehindTheCover, procedure } from '../examples.js';
import { isFigure, isMore, type MoreThanNames, moreThanNames } from '../more-than-names.js';
import { kindCalled, ofAnotherKind } from '../other-kind.js';
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
      // What a parameter stands for by itself is told at its first step: it is put right in one place.
      const usual = new Set<string>();
      const misdeclared = misdeclaredIn(plan);
      for (const planned of plan.steps)
        for (const one of planned.unnamed) {
          const uses = misdeclared.get(useOf(planned, one.written));
          if (uses) {
            if (uses[0] === planned) tell(toldAtFirst(plan, planned, one, uses.length));
            continue;
          }
          const parameter = parameterOf(planned, one.written);
          const key = `${planned.participant.document.id} ${parameter}`;
          if (parameter !== null && usual.has(key)) continue;
          const found = told(plan, planned, one);
          if (!found) continue;
          if (parameter !== null) usual.add(key);
          tell(found);
        }
    }
  },
};

const useOf = ({ participant }: PlanStep, written: string): string => `${participant.document.id} ${written}`;

/**
 * Names that stand for nothing, with the steps of a document that use each: of those that use it more than once, where no step
 * uses what it may be a slip for. Then nobody knows which of the two is the slip.
 */
function misdeclaredIn({ steps }: Plan): ReadonlyMap<string, readonly PlanStep[]> {
  const uses = new Map<string, PlanStep[]>();
  const meantBy = new Map<string, string>();
  for (const step of steps)
    for (const { written, meant } of step.unnamed) {
      if (meant === undefined || step.does.objects === 'free') continue;
      once(uses, useOf(step, written), () => []).push(step);
      meantBy.set(useOf(step, written), meant);
    }
  if (uses.size === 0) return uses;
  const named = new Set(steps.flatMap((step) => step.objects.map((object) => asWritten(step, object))));
  return new Map([...uses].filter(([use, those]) => those.length > 1 && !named.has(meantBy.get(use) ?? '')));
}

/** Of a name that is used more than once and declared otherwise: told once, as either may be the slip. */
function toldAtFirst(plan: Plan, planned: PlanStep, { written, meant = '' }: Unnamed, uses: number): Found {
  const { document, scope } = planned.participant;
  const kinds = planned.does.objects === 'free' ? [] : planned.does.objects;
  const table = [scope.vehicle, document]
    .flatMap((one) => (one ? kinds.map((kind) => tableOf(one, kind)) : []))
    .find((one) => one !== undefined && Object.hasOwn(one, meant));
  return {
    span: spanOfObject(plan, planned, written),
    message: `\`${written}\` is named ${uses} times in \`${document.id}\` and declared nowhere; \`${meant}\` is declared, and no step names it. Correct the one that is misspelt.`,
    related: table && isPlaced(table) ? [{ span: spanOf(table, meant, 'key'), message: 'declared here' }] : [],
  };
}

/** What there is to tell of a name that stands for nothing. */
function told(plan: Plan, planned: PlanStep, { written: object, meant }: Unnamed): Found | null {
  const { scope, document } = planned.participant;
  const kinds = planned.does.objects;
  const { vehicle } = scope;
  if (kinds === 'free') return meant === undefined ? null : slip(plan, planned, object, meant);
  if (!vehicle) return null;
  // Written, and not readable: that is told where it stands.
  if ([vehicle, document].some((one) => mayDeclare(one, kinds, object))) return null;
  const span = spanOfObject(plan, planned, object);
  const said = moreThanNames(object, (name) => isNamed(scope, kinds, name));
  if (said) return { span, message: `\`${object}\` is ${namesAlone(planned, said)}` };
  const other = ofAnotherKind(scope, planned.verb, kinds, object);
  if (other !== null) return { span, message: other };
  const known = namesToAsk(scope, kinds);
  return {
    span,
    fix: renameFix(span, object, known),
    message: `\`${object}\` is not a ${kinds.map((kind) => kindCalled[kind]).join(' or ')} of the profile of \`${vehicle.id}\`.${didYouMeanThing(object, known)} Correct the name, or declare it under \`${kinds[0] === 'fastener' ? 'fasteners' : kinds[0] === 'temporary' ? 'temporaries' : `${kinds[0]}s`}:\`.${unlessTold(planned, object)}`,
  };
}

/** What stands there besides names, and what to write. */
function namesAlone({ verb, step }: PlanStep, { names, behind }: MoreThanNames): string {
  const [name = '', ...others] = names;
  if (others.length > 0) return `a list of names. Write it as one: \`${verb}: [${names.join(', ')}]\`.`;
  if (isFigure(behind))
    return `a name with a figure. Write \`${verb}: ${name}\`; the figure stands once, with what it belongs to in the profile.`;
  if (isMore(behind))
    return `a name and more. Write \`${verb}: ${name}\`; what else is meant has a name of its own, \`${verb}: [${name}, …]\`, or stands in \`says:\`.`;
  return `a name with more behind it. Write \`${verb}: ${name}\`, and the rest ${step.says ? 'in its `says:`' : `as \`says: ${behind}\``}.`;
}

/** The parameter of a preparation that stands for this name by itself; null where it is written, or told by who needs it. */
function parameterOf({ step, verb, participant: { document } }: PlanStep, object: string): string | null {
  const params = document.kind === 'preparation' ? Object.entries(document.params ?? {}) : [];
  const [name = null] =
    params.find(([one, { default: usual }]) => asList(step[verb]).includes(`$${one}`) && asList(usual).includes(object)) ?? [];
  return name;
}

/** What a parameter stands for by itself can be told otherwise where its preparation is needed. */
function unlessTold(planned: PlanStep, object: string): string {
  const name = parameterOf(planned, object);
  return name === null
    ? ''
    : ` If it is called otherwise on this vehicle, say so where the preparation is needed: \`${planned.participant.document.id}: { ${name}: ${calledThere(planned, object) ?? 'NAME'} }\`.`;
}

/** What this vehicle has in its place, by what the profile says that it is for; only where that is one. */
function calledThere({ participant: { scope, document } }: PlanStep, usual: string): string | undefined {
  const filled = new Set([...(document['close-up'] ?? [])].flatMap((step) => asList(step.fill)));
  const those = [...scope.parts].flatMap(([id, { role, circuit }]) =>
    (role === 'battery' && usual.includes('battery')) ||
    (role === 'fill-point' && usual.endsWith('cap') && asList(circuit).some((one) => filled.has(one)))
      ? [id]
      : [],
  );
  return those.length === 1 ? those[0] : undefined;
}

const slip = (plan: Plan, planned: PlanStep, object: string, name: string): Found => ({
  span: spanOfObject(plan, planned, object),
  severity: 'warning',
  message: `\`${object}\` is nothing that is known here. Did you mean \`${name}\`? ${
    planned.gate ? 'What must be closed before it is looked for by this name.' : 'The paper says it as it is written here.'
  }`,
});
