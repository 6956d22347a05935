import { called } from '../../ledger/called.js';
import { asList, type Scope } from '../../library/scope.js';
import type { Part } from '../../schema/generated/types.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import { wordsOf } from '../../library/names-in-words.js';
import { partsWhere } from '../parts-where.js';
import { firstFound, type PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { takingApart } from '../steps.js';

const line = (after: string): string =>
  procedure(`parts: { line: { name: gas line, hazard: gas, opened-after: [ignition-off] } }
steps:
  - wait: ignition-off
  - disconnect: line # <-
    warning: Gas burns. No flame, no spark.
    wear: [gloves, eyes]
    qualification: gas
close-up:
  - connect: line
${after}`);

export const rule: Rule = {
  name: 'hazard/gas-not-tested',
  severity: 'warning',
  finds: 'A gas line or container was open, and no step after it is back tests it for leaks.',
  why: 'A joint that leaks fills the vehicle or the shop until something sparks; local law may ask for the proof.',
  mend: 'Add `test:` with the leak spray or the detector after it is closed and tight.',
  bad: line(''),
  good: line('  - test: line\n    says: Leak spray; no bubbles.\n'),
  check(context, tell) {
    for (const { place, object } of firstFound(context.placesOf(takingApart), isUntested))
      tell({
        span: spanOfObject(place.plan, place.planned, object),
        about: object,
        message: `${called(place.planned, object)} opens gas here, and no step after it is back tests it for leaks. Add \`test: ${object}\` with how (leak spray, detector) and what shows that it is tight. Local law comes first.`,
      });
  },
};

const ofGas = partsWhere((part, _id, scope) => part.hazard === 'gas' || isInGas(part, scope));

const isInGas = ({ circuit }: Part, { fluids, charges }: Scope): boolean =>
  asList(circuit).some((id) => (fluids.get(id) ?? charges.get(id))?.hazard === 'gas');

const isUntested = (place: PlanPlace, object: string): boolean =>
  ofGas(place.planned.participant.scope).has(object) && !isTestedAfter(place, object);

const tightness = /leak|tight|pressure|leck|dicht|druck/i;
/** A glance for drips finds no gas. */
const detecting = /spray|detector|bubble|sniffer|lecksuch|blasen/i;

/** Whether its document tests anything after it is closed, or takes its pressure or tightness. */
function isTestedAfter({ after, planned }: PlanPlace, object: string): boolean {
  const closed = after.findIndex(({ does, objects }) => does.closes !== undefined && objects.includes(object));
  return after.slice(closed + 1).some(({ verb, objects, step, participant: { document, scope } }) => {
    if (verb === 'test') return document === planned.participant.document || objects.includes(object);
    if (verb === 'inspect') return detecting.test(step.says ?? '');
    return verb === 'measure' && objects.some((one) => tightness.test(wordsOf(scope, one)));
  });
}
