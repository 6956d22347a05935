import { runningSince } from '../../ledger/engine.js';
import { limitsIn, type Quantity } from '../../quantity/quantity.js';
import { spanOf } from '../../schema/origin.js';
import { spanOfObject, stepWords } from '../context.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { heightAt } from '../steps.js';

const van = (exampleLibrary['vehicles/sample-van.yaml'] ?? '').replace(
  '    form: ready\n',
  '    form: ready\n    level: { at: 35..45 °C, engine: running, says: Fluid just drips out. }\n',
);
const work = (at: string): string =>
  procedure(`steps:\n  - start: engine\n    warning: Hands clear of moving parts.\n  - check: coolant${at}\n  - stop: engine\n`);

export const rule: Rule = {
  name: 'fluid/level-condition',
  severity: 'error',
  finds:
    'A level check under other conditions than the vehicle profile asks for: another temperature, the engine running or off, raised or on the ground.',
  why: 'A gearbox filled to the mark at the wrong temperature, or with the engine off, is half a litre out.',
  mend: 'Write `at:` as in the `level:` of the fluid; put the check where the engine runs, or is off, and the vehicle stands as it says.',
  bad: { 'vehicles/sample-van.yaml': van, 'procedures/example.yaml': work('\n    at: 35..60 °C # <-') },
  good: { 'vehicles/sample-van.yaml': van, 'procedures/example.yaml': work('\n    at: 35..45 °C') },
  check(context, tell) {
    for (const place of context.placesOf('check')) {
      const { planned, plan } = place;
      for (const object of planned.objects) {
        const level = planned.participant.scope.fluids.get(object)?.level;
        if (!level) continue;
        const related = (key: 'at' | 'engine' | 'attitude') => [
          { span: spanOf(level, key), message: 'the condition of the vehicle profile' },
        ];
        const { at } = planned.step;
        // Without `at:` the sheet prints the condition of the profile; only two of them can contradict each other.
        if (at && level.at && isOutside(at, level.at))
          tell({
            span: spanOf(planned.step, 'at'),
            message: `The level of \`${object}\` is right only at ${level.at.text}, and this step checks it at ${at.text}. Write \`at: ${level.at.text}\`.`,
            related: related('at'),
          });
        const engine = level.engine && engineOtherwise(place, level.engine);
        if (engine)
          tell({
            span: spanOfObject(plan, planned, object),
            about: object,
            message: `The level of \`${object}\` is right only with the engine ${level.engine}, and ${engine}`,
            related: related('engine'),
          });
        const stands = level.attitude && standsOtherwise(place, level.attitude);
        if (stands)
          tell({
            span: spanOfObject(plan, planned, object),
            about: object,
            message: `The level of \`${object}\` is right only ${stands}`,
            related: related('attitude'),
          });
      }
    }
  },
};

function isOutside(at: Quantity, wanted: Quantity): boolean {
  const [given, limit] = [limitsIn(at, '°C'), limitsIn(wanted, '°C')];
  const isBelow = limit.low !== null && (given.low === null || given.low.lt(limit.low));
  const isAbove = limit.high !== null && (given.high === null || given.high.gt(limit.high));
  return isBelow || isAbove;
}

/** What is otherwise with the engine, and what to do; null where it is as the level wants it. */
function engineOtherwise({ plan, planned, index, before }: PlanPlace, wanted: 'running' | 'off'): string | null {
  const isRunning = runningSince(plan.steps.slice(0, index + 1))[index] !== null;
  if (isRunning === (wanted === 'running')) return null;
  if (!isRunning) return 'nothing before this step starts it. Put it into `final: running:`, behind `start: engine`.';
  const started = before.findLast(({ verb }) => verb === 'start');
  return `here it runs since ${stepWords(started ?? planned)}. Put \`stop: ${started?.objects[0] ?? 'engine'}\` before this step, or this step before ${stepWords(started ?? planned)}.`;
}

/** How the vehicle stands otherwise, and what to do; null where it stands as the level wants it. */
function standsOtherwise(place: PlanPlace, wanted: 'on-ground' | 'level-lift'): string | null {
  const { up, lowered } = heightAt(place);
  if (wanted === 'on-ground' && up)
    return `on the ground, and here the vehicle is up since ${stepWords(up)}. Put this step last into \`final: ground:\`, with \`wheels: on-ground\`.`;
  if (wanted === 'level-lift' && !up && lowered)
    return `level on the lift, and here the vehicle is down since ${stepWords(lowered)}. Put this step before that.`;
  return null;
}
