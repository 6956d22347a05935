import type { Scope } from '../../library/scope.js';
import { termsOf } from '../../job/readings.js';
import { waysOf } from '../../library/variants.js';
import { once } from '../../once.js';
import type { PlanStep } from '../../plan/plan.js';
import { spanOf } from '../../schema/origin.js';
import type { Span } from '../../source/source.js';
import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const gap = 'measurements: { gap: { name: gap, limit: max 0.5 mm, resolution: 0.1 mm, with: feeler gauges, outside: Renew the cover. } }\n';
const renewIf = '  - inspect: cover\n    says: Mark where it rubs.\n    when: { gap: outside }';

export const rule: Rule = {
  name: 'measurement/not-measured',
  severity: 'error',
  finds: 'A step that depends on what no step before it measures or chooses: an outcome, a choice, a part of a grade.',
  why: 'Whoever stands there guesses, or passes it over.',
  mend: 'Put the `measure:` or `choose:` before it.',
  bad: procedure(`${gap}steps:\n${renewIf} # <-\n  - measure: gap\n`),
  good: procedure(`${gap}steps:\n  - measure: gap\n${renewIf}\n`),
  check(context, tell) {
    for (const { plan } of context.plans) {
      if (!plan.steps.some(dependsOnSomething)) continue;
      const known = new Set<string>();
      for (const planned of plan.steps) {
        if (dependsOnSomething(planned))
          for (const { name, span, message } of neededBy(planned)) if (!known.has(name)) tell({ span: span(), message, about: name });
        if (planned.verb === 'measure' || planned.verb === 'choose') for (const object of planned.objects) known.add(object);
      }
    }
  },
};

interface Needed {
  readonly name: string;
  readonly span: () => Span;
  readonly message: string;
}

function dependsOnSomething({ step, verb, objects, participant }: PlanStep): boolean {
  if (step.when !== undefined || verb === 'choose') return true;
  if (verb === 'measure') return objects.some((one) => participant.scope.measurements.get(one)?.calculated);
  if ((verb !== 'fit' && verb !== 'renew') || participant.scope.choices.size === 0) return false;
  const graded = gradedIn(participant.scope);
  for (const object of objects) if (graded.has(object)) return true;
  return false;
}

/** A part of which a choice says which item it is. */
interface Graded {
  readonly choice: string;
  readonly item: string;
}

const graded = new WeakMap<object, ReadonlyMap<string, Graded>>();

const gradedIn = ({ things, parts, choices }: Scope): ReadonlyMap<string, Graded> =>
  once(graded, things, () => {
    const found = new Map<string, Graded>();
    for (const [choice, { item }] of choices)
      for (const [id, part] of parts)
        if (item !== undefined && (part.item === item || Object.hasOwn(part.seals ?? {}, item))) found.set(id, { choice, item });
    return found;
  });

/** Measurements and choices that must be over before a step. */
function neededBy(planned: PlanStep): Needed[] {
  const { step, verb, objects, participant } = planned;
  const { measurements, choices } = participant.scope;
  const needed: Needed[] = [];
  for (const way of step.when ? waysOf(step.when) : [])
    for (const name of Object.keys(way)) {
      const first = measurements.has(name) ? 'measure' : choices.has(name) ? 'choose' : null;
      if (first)
        needed.push({
          name,
          span: () => spanOf(way, name),
          message: `Whether this step is done depends on \`${name}\`, and no step before it says \`${first}: ${name}\`. Put that before it.`,
        });
    }
  for (const object of objects) {
    const { from, stays } = (verb === 'choose' && choices.get(object)) || {};
    // A name that nobody declares is told where it stands.
    for (const name of verb === 'measure' ? termsOf(measurements.get(object) ?? { name: '' }) : [])
      if (measurements.has(name) && !objects.slice(0, objects.indexOf(object)).includes(name))
        needed.push({
          name,
          span: () => stepSpan(planned),
          message: `\`${object}\` is worked out from \`${name}\`, and no step before this one says \`measure: ${name}\`. Put that before it.`,
        });
    if (stays !== undefined && measurements.has(stays))
      needed.push({
        name: stays,
        span: () => stepSpan(planned),
        message: `\`${stays}\` says whether what is in stays, and no step before this one says \`measure: ${stays}\`. Put that before it.`,
      });
    if (from !== undefined)
      needed.push({
        name: from,
        span: () => stepSpan(planned),
        message: `\`${object}\` is chosen by \`${from}\`, and no step before this one says \`measure: ${from}\`. Put that before it.`,
      });
    const part = verb === 'fit' || verb === 'renew' ? gradedIn(participant.scope).get(object) : undefined;
    if (part)
      needed.push({
        name: part.choice,
        span: () => stepSpan(planned),
        message: `Which \`${part.item}\` goes on here is chosen by \`${part.choice}\`, and no step before this one says \`choose: ${part.choice}\`. Put that before it.`,
      });
  }
  return needed;
}
