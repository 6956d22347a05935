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
      if (!plan.steps.some(mayDepend)) continue;
      const known = new Set<string>();
      for (const planned of plan.steps) {
        for (const { name, span, message } of mayDepend(planned) ? neededBy(planned) : [])
          if (!known.has(name)) tell({ span: span(), message, about: name });
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

const mayDepend = ({ step, participant }: PlanStep): boolean => step.when !== undefined || participant.scope.choices.size > 0;

/** Measurements and choices that must be over before a step. */
function neededBy(planned: PlanStep): Needed[] {
  const { step, verb, objects, participant } = planned;
  const { measurements, choices, parts } = participant.scope;
  const needed: Needed[] = [];
  for (const name of Object.keys(step.when ?? {})) {
    const verb = measurements.has(name) ? 'measure' : choices.has(name) ? 'choose' : null;
    if (verb)
      needed.push({
        name,
        span: () => spanOf(step.when ?? step, name),
        message: `Whether this step is done depends on \`${name}\`, and no step before it says \`${verb}: ${name}\`. Put that before it.`,
      });
  }
  if (verb === 'choose')
    for (const object of objects) {
      const from = choices.get(object)?.from;
      if (from !== undefined)
        needed.push({
          name: from,
          span: () => stepSpan(planned),
          message: `\`${object}\` is chosen by \`${from}\`, and no step before this one says \`measure: ${from}\`. Put that before it.`,
        });
    }
  if (verb === 'fit' || verb === 'renew')
    for (const object of objects) {
      const part = parts.get(object);
      const items = [part?.item, ...Object.keys(part?.seals ?? {})];
      for (const [name, { item }] of choices)
        if (item !== undefined && items.includes(item))
          needed.push({
            name,
            span: () => stepSpan(planned),
            message: `Which \`${item}\` goes on here is chosen by \`${name}\`, and no step before this one says \`choose: ${name}\`. Put that before it.`,
          });
    }
  return needed;
}
