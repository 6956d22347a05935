import { hasMethodAlone, type Joint } from '../../ledger/joints.js';
import type { VerbName } from '../../ledger/verbs.js';
import { asList, type Scope } from '../../library/scope.js';
import type { PlanStep } from '../../plan/plan.js';
import { numberIn } from '../../quantity/quantity.js';
import { minutesAlone } from '../../plan/alone.js';
import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import type { Fastener } from '../../schema/generated/types.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';

/** What loads every joint that cures. */
const loadsAll: ReadonlySet<VerbName> = new Set(['crank', 'start', 'drive', 'hand-over']);
/** What loads those of its circuit. */
const loadsCircuit: ReadonlySet<VerbName> = new Set(['fill', 'pressurise']);

function loads({ verb, objects }: PlanStep, { part }: Joint, { parts }: Scope): boolean {
  if (!loadsCircuit.has(verb)) return loadsAll.has(verb);
  return part === '' || asList(parts.get(part)?.circuit).some((circuit) => objects.includes(circuit));
}

export const rule: Rule = {
  name: 'fastener/cure-not-waited',
  severity: 'error',
  finds: 'Threadlocker, sealant or what else cures in a joint (`cure:`) is loaded before it has cured.',
  why: 'Filled or started too early it washes out, and the joint leaks for good.',
  mend: 'Add `wait:` before the gate, or unattended time of other steps.',
  bad: procedure(`parts: { plug: { name: plug, circuit: coolant, fasteners: plug-bolts } }
fasteners: { plug-bolts: { count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: sealant, cure: 30 min, stages: [{ torque: 20 N·m }] } }
steps:
  - open: tap
  - drain: coolant
  - remove: plug
close-up:
  - fit: plug
  - tighten: plug-bolts # <-
  - close: tap
  - fill: coolant
`),
  good: procedure(`parts: { plug: { name: plug, circuit: coolant, fasteners: plug-bolts } }
fasteners: { plug-bolts: { count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: sealant, cure: 30 min, stages: [{ torque: 20 N·m }] } }
steps:
  - open: tap
  - drain: coolant
  - remove: plug
close-up:
  - fit: plug
  - tighten: plug-bolts
  - wait: 30 min
  - close: tap
  - fill: coolant
`),
  check(context, tell) {
    for (const place of context.placesOf(closing))
      for (const { joint, group } of place.joints) {
        if (!group?.cure || !isClosedBy(place, joint, group)) continue;
        let left = numberIn(group.cure, 'min');
        for (const planned of place.after) {
          left -= minutesAlone(planned);
          if (!loads(planned, joint, place.planned.participant.scope)) continue;
          if (left > 0)
            tell({
              span: stepSpan(place.planned),
              message: `${whatCures(group)} needs ${group.cure.text}, and “${planned.verb}: ${planned.objects.join(', ')}” comes ${timeText(left)} too early. Add \`wait: ${timeText(left)}\` before that.`,
              related: [{ span: stepSpan(planned), message: 'it is loaded here' }],
            });
          break;
        }
      }
  },
};

const closing = ['tighten', 'fit', 'renew', 'close', 'connect'] as const;

/** Whether a step closes a joint for good: it is tightened, or nothing else is done to it as it is pressed in or glued. */
const isClosedBy = ({ planned, after }: PlanPlace, { part, group: name }: Joint, group: Fastener): boolean =>
  planned.verb === 'tighten' ||
  (hasMethodAlone(group) && !after.some(({ verb, objects }) => verb === 'tighten' && (objects.includes(part) || objects.includes(name))));

const whatCures = ({ threads }: Fastener): string =>
  threads === 'sealant'
    ? 'The sealant of this joint'
    : threads === 'threadlocker'
      ? 'The threadlocker of this joint'
      : 'What cures in this joint';

/** A time as people say it: in hours, where those are whole. */
function timeText(minutes: number): string {
  const whole = Math.ceil(minutes);
  return whole >= 120 && whole % 60 === 0 ? `${whole / 60} h` : `${whole} min`;
}
