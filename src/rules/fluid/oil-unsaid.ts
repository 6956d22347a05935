import { inWords } from '../../library/names-in-words.js';
import { asList, type Scope } from '../../library/scope.js';
import { goesOnNew } from '../../plan/plan.js';
import { parseQuantity } from '../../quantity/quantity.js';
import { spanOf } from '../../schema/origin.js';
import { spanOfObject } from '../context.js';
import { partsWhere } from '../parts-where.js';
import { firstFound, type PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { did } from '../steps.js';

const cooled = (part: string, mark = ''): Readonly<Record<string, string>> => ({
  'vehicles/other-van.yaml': `kind: vehicle
id: other-van
name: Other van
parts: { compressor: { name: A/C compressor, item: coolant-ready${part} } }${mark}
charges:
  refrigerant: { name: refrigerant, spec: R-1, item: coolant-ready, charge: 540 g, oil: PAG 46, oil-item: coolant-ready }
`,
});

export const rule: Rule = {
  name: 'fluid/oil-unsaid',
  severity: 'warning',
  finds:
    'Oil of a renewed part that counts for nothing, as the part is in no circuit of a charge; a compressor, condenser, evaporator, receiver or drier that goes in new without any word of oil (common practice, no source); an amount where the specification of the oil belongs.',
  why: 'Each takes some of the oil out with it, and the new compressor seizes without it; with too much it does not cool.',
  mend: 'Write `circuit:` and `oil:` at the part in the profile; where it comes filled, say so at the step.',
  bad: cooled(', oil: 60 mL', ' # <-'),
  good: cooled(', oil: 60 mL, circuit: refrigerant'),
  check(context, tell) {
    for (const { charges = {}, fluids = {}, parts = {} } of context.vehicles) {
      for (const charge of Object.values(charges))
        if (charge.oil !== undefined && parseQuantity(charge.oil, 'volume').ok)
          tell({
            span: spanOf(charge, 'oil'),
            message: `Here stands which oil it is, as PAG 46, and “${charge.oil}” is an amount. How much a renewed part takes is \`oil:\` at that part.`,
          });
      // A circuit that nobody knows is told as that.
      for (const [id, part] of Object.entries(parts))
        if (part.oil && asList(part.circuit).every((one) => Object.hasOwn(fluids, one)))
          tell({
            span: spanOf(part, 'oil'),
            message: `\`${id}\` is in no circuit of a charge, so its oil counts for nothing. Write \`circuit:\` with the name of the charge.`,
          });
    }
    for (const { place, object } of firstFound(context.placesOf(goingIn), isUnsaid))
      tell({
        span: spanOfObject(place.plan, place.planned, object),
        about: object,
        severity: 'info',
        message: `\`${object}\` goes in new, and nothing says how much oil goes in with it. Write \`oil:\` and \`circuit:\` at the part in the profile, as its maker states; where it comes filled, say so in \`says:\` of this step.`,
      });
  },
};

const goingIn = ['fit', 'renew'] as const;

/** What holds oil of its own in the circuit of a refrigerant, by its name; in the languages of the tool. */
const holding =
  /\b(compressor|condenser|evaporator|receiver|drier|dryer|accumulator)\b|kompressor|verdichter|kondensator|verdampfer|trockner/;
const butNot =
  /\b(clutch|belt|pulley|bracket|fan|mount|seal|bolt|shield|plug|pipe|line|hose)s?\b|riemen|halter|l(ü|ue)fter|leitung|dichtung/;

/** Such parts that are in the circuit of a charge, or behind what is. */
const oiled = partsWhere(
  (part, id, scope) =>
    part.oil === undefined &&
    holding.test(inWords(id, part.name)) &&
    !butNot.test(inWords(id, part.name)) &&
    [part, ...(part.behind ?? []).map((cover) => scope.parts.get(cover))].some((one) => isOfCharge(scope, one?.circuit)),
);

/** That it comes with its oil. */
const filled = /\b(pre-?)?filled\b|(be|ge)füllt\b/i;

const isOfCharge = ({ charges }: Scope, circuit: string | readonly string[] | undefined): boolean =>
  asList(circuit).some((one) => charges.get(one)?.oil !== undefined || charges.get(one)?.['oil-item'] !== undefined);

const isUnsaid = ({ plan, planned }: PlanPlace, object: string): boolean =>
  oiled(planned.participant.scope).has(object) &&
  goesOnNew(plan, planned, object) &&
  !filled.test(planned.step.says ?? '') &&
  [...planned.participant.scope.charges.keys()].some((charge) => did(plan.steps, 'fill', charge));
