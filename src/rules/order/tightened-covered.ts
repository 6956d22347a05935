import { called } from '../../ledger/called.js';
import { inWords } from '../../library/names-in-words.js';
import type { PlanStep } from '../../plan/plan.js';
import { stepSpan, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const pump = (closeUp: string): string => procedure(`steps:\n  - remove: cover\n  - remove: pump\nclose-up:\n  - fit: pump\n${closeUp}`);

export const rule: Rule = {
  name: 'order/tightened-covered',
  severity: 'warning',
  looksAt: 'troubled',
  finds: 'A joint is tightened when a cover of its part is already back on.',
  why: 'The wrench does not reach it: the cover comes off again, or the joint stays as tight as it was by hand.',
  mend: 'Tighten it before the cover goes on.',
  bad: pump('  - fit: cover\n  - tighten: pump-bolts # <-\n'),
  good: pump('  - tighten: pump-bolts\n  - fit: cover\n'),
  check(context, tell) {
    for (const { step, object, cover, fitted } of context.problems('tightened-covered')) {
      tell({
        span: context.objectSpan(step, object),
        message: `${called(step, object)} is tightened here, and ${called(step, cover)} in front of it is already back on. Put this step before ${stepWords(fitted)}.${passed(step, cover)}`,
        related: [{ span: stepSpan(fitted), message: 'back on since here' }],
      });
    }
  },
};

/** A wrench reaches past what runs round wheels: that is known by its role. */
const passed = ({ participant }: PlanStep, cover: string): string =>
  /\b(belt|chain)\b|riemen\b|kette\b/.test(inWords(cover, participant.scope.parts.get(cover)?.name))
    ? ` If the wrench reaches past it, as past a belt or a chain, the profile says so: \`role: belt\`.`
    : '';
