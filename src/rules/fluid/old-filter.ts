import { inWords } from '../../library/names-in-words.js';
import { asList } from '../../library/scope.js';
import { goesBackOld, isPouredBack } from '../../plan/plan.js';
import { stepSpan } from '../context.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import { partsWhere } from '../parts-where.js';
import { firstFound, type PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { did } from '../steps.js';

const van = (exampleLibrary['vehicles/sample-van.yaml'] ?? '').replace(
  'parts:\n',
  'parts:\n  coolant-filter: { name: coolant filter, circuit: coolant, item: pump }\n',
);
const change = (fit: string): string =>
  procedure(`steps:\n  - open: tap\n  - drain: coolant\n  - remove: coolant-filter\nclose-up:\n  - close: tap\n${fit}  - fill: coolant\n`);

/** What is a filter by its name; common practice, no source. In the languages of the tool. */
const filter = /filter(einsatz|patrone|element)?\b/;
const aroundIt = /\b(housing|cap|cover|lid|bowl|bracket|head)\b|(geh(ä|ae)use|deckel|halter|kopf|topf)\b/;
const isFilter = (words: string): boolean => filter.test(words) && !aroundIt.test(words);

/** What is bought as a filter of a circuit. */
const filters = partsWhere(
  ({ item, circuit, name }, id) =>
    item !== undefined && asList(circuit).length > 0 && (isFilter(inWords(item, undefined)) || isFilter(inWords(id, name))),
);

export const rule: Rule = {
  name: 'fluid/old-filter',
  severity: 'warning',
  finds: 'A filter that goes back on as it was, in work that fills new fluid through it.',
  why: 'The new fluid runs through the dirt of the old; and the filter is not ordered.',
  mend: 'Write `new: true` at the step that fits it, or `renew:` with its name.',
  bad: { 'vehicles/sample-van.yaml': van, 'procedures/example.yaml': change('  - fit: coolant-filter # <-\n') },
  good: { 'vehicles/sample-van.yaml': van, 'procedures/example.yaml': change('  - fit: coolant-filter\n    new: true\n') },
  check(context, tell) {
    for (const { place, object } of firstFound(context.placesOf('fit'), isOld))
      tell({
        span: stepSpan(place.planned),
        about: object,
        message: `\`${object}\` goes back on as it was, and new fluid is filled in. Write \`new: true\` at this step, or \`renew: ${object}\` before it.`,
      });
  },
};

function isOld(place: PlanPlace, object: string): boolean {
  const { plan, planned } = place;
  const { scope } = planned.participant;
  if (!filters(scope).has(object)) return false;
  const circuits = asList(scope.parts.get(object)?.circuit);
  return circuits.some((one) => did(plan.steps, 'fill', one) && !isPouredBack(plan, one)) && goesBackOld(plan, planned, object);
}
