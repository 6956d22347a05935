import type { Scope } from '../../library/scope.js';
import type { PlanStep } from '../../plan/plan.js';
import { beltsOf, isTensioner } from '../belts.js';
import { called } from '../../ledger/called.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import { inWords, wordsOf } from '../../library/names-in-words.js';
import { firstObjectOf } from '../parts-where.js';
import type { Rule } from '../rule.js';

const belt = (adjust: string): string =>
  procedure(`parts:
  drive-belt: { name: drive belt, role: belt }
  tensioner: { name: tensioner, fasteners: pump-bolts }
steps:
  - loosen: tensioner
  - remove: drive-belt
close-up:
  - fit: drive-belt # <-
    new: true
    says: As sketched; each rib in its groove.
${adjust}  - tighten: tensioner
`);

export const rule: Rule = {
  name: 'check/belt-not-tensioned',
  severity: 'warning',
  finds: 'A belt or chain goes on, and no step after it sets its tension or says how tight it is (common practice, no source).',
  why: 'A loose belt jumps a tooth; a tight one eats the bearings that it runs on.',
  mend: 'Add `adjust:` with the tensioner and how far, or `measure:` the tension; let the tensioner go where it tightens by itself.',
  bad: belt(''),
  good: belt('  - adjust: tensioner\n    says: Until its pointer stands at the mark.\n').replace(' # <-', ''),
  check(context, tell) {
    for (const place of context.placesOf('fit')) {
      const { plan, planned } = place;
      const belt = firstObjectOf(planned, beltsOf);
      if (belt === undefined || place.after.some(setsTension) || !hasTensioner(planned.participant.scope)) continue;
      tell({
        span: spanOfObject(plan, planned, belt),
        about: belt,
        message: `${called(planned, belt)} goes on here, and no step after this sets its tension. Add \`adjust:\` with the tensioner and how far, or a \`measure:\` of the tension; where the tensioner tightens by itself, the step that lets it go.`,
      });
    }
  },
};

/** In the languages of the tool. */
const tension = /tension|spann|deflection|slack|durchhang/;

/** Whether anything is there to set it with, by its name. */
const hasTensioner = ({ parts, fasteners, temporaries }: Scope): boolean =>
  [parts, fasteners, temporaries].some((table) => [...table].some(([id, { name }]) => isTensioner(inWords(id, name))));

/** What is done to a tensioner and does not set it. */
const otherwise: ReadonlySet<string> = new Set([
  'tighten',
  'loosen',
  'fit',
  'remove',
  'clean',
  'lubricate',
  'apply',
  'mark',
  'place',
  'lock',
]);

const setsTension = ({ verb, objects, step, participant: { scope } }: PlanStep): boolean =>
  (!otherwise.has(verb) && objects.some((object) => tension.test(wordsOf(scope, object)))) || tension.test((step.says ?? '').toLowerCase());
