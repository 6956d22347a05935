import { asList } from '../../library/scope.js';
import { brakesOf } from '../brakes.js';
import { spanOfObject } from '../context.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import { firstFound, type PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { takingApart } from '../steps.js';

const van = (exampleLibrary['vehicles/sample-van.yaml'] ?? '')
  .replace('parts:\n', 'parts:\n  hose: { name: brake hose, circuit: brake-fluid }\n')
  .replace(
    'fluids:\n',
    'fluids:\n  brake-fluid: { spec: DOT 4, item: coolant-ready, capacity: 0.8 L, bleeding: 0.3 L, drains: [{ through: [hose], gives: 0.2 L }], waste: antifreeze }\n',
  );

const closedAgain = (closeUp: string): Readonly<Record<string, string>> => ({
  'vehicles/sample-van.yaml': van,
  'procedures/example.yaml': procedure(`steps:
  - disconnect: hose # <-
close-up:
  - connect: hose
${closeUp}final:
  ground:
    - inspect: brake-pedal
      says: Pump the pedal until it is firm, before the vehicle moves.
`),
});

export const rule: Rule = {
  name: 'fluid/not-bled',
  severity: 'error',
  finds: 'The hydraulics of a brake or clutch were open, and no step after that bleeds them.',
  why: 'Air in the line gives way before the brake does.',
  mend: 'Add `bleed:` with the fluid to the close-up, with its order and its end.',
  bad: closedAgain(''),
  good: closedAgain('  - bleed: brake-fluid\n    until: no bubbles at the nipple; two strokes without\n'),
  check(context, tell) {
    for (const { place, object, kind: circuit } of firstFound(context.placesOf(takingApart), unbled))
      tell({
        span: spanOfObject(place.plan, place.planned, object),
        about: object,
        message: `\`${object}\` opens the circuit of \`${circuit}\`, and no step after it bleeds that. Add \`bleed: ${circuit}\` to the close-up, with \`until:\`.`,
      });
  },
};

function unbled(place: PlanPlace, object: string): false | readonly string[] {
  const circuit = circuitOpened(place, object);
  return circuit !== undefined && !isBledAfter(place, circuit) && [circuit];
}

function circuitOpened({ planned }: PlanPlace, object: string): string | undefined {
  const { scope } = planned.participant;
  const { circuits } = brakesOf(scope);
  if (circuits.size === 0) return undefined;
  const part = scope.parts.get(object);
  return part?.role === 'fill-point' ? undefined : asList(part?.circuit).find((circuit) => circuits.has(circuit));
}

/** Anything that is bled may be of this circuit, if it is not another fluid. */
const isBledAfter = ({ after, planned }: PlanPlace, circuit: string): boolean =>
  after.some(
    ({ verb, objects }) =>
      verb === 'bleed' && objects.some((object) => object === circuit || !planned.participant.scope.fluids.has(object)),
  );
