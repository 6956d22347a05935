import { asList } from '../../library/scope.js';
import { spanOf } from '../../schema/origin.js';
import { once } from '../../once.js';
import type { FastenerInPlace } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

/** The groups that hold the wheels. */
const holdingWheels = ({ parts = {} }: FastenerInPlace['document']): ReadonlySet<string> =>
  new Set(Object.values(parts).flatMap((part) => (part.role === 'wheel' ? asList(part.fasteners) : [])));

export const rule: Rule = {
  name: 'torque/re-torque-unsaid',
  severity: 'warning',
  looksAt: 'fasteners',
  finds: 'Wheel fasteners that do not say whether they are tightened again after a distance.',
  why: 'Paint and dirt settle; wheels are checked again after 50 to 100 km (common practice, no source).',
  mend: 'Add a stage with `after: distance`, or write `re-torque: not-needed`.',
  bad: procedure(
    'parts: { hub: { role: wheel, fasteners: hub-nuts } }\nfasteners:\n  hub-nuts: { count: 5, thread: M14x1.5, class: "10", drive: 21 AF, reuse: always, threads: dry, sequence: star, stages: [{ torque: 160 N·m }] } # <-\nsteps:\n  - raise: vehicle\n  - remove: hub\nclose-up:\n  - fit: hub\n  - tighten: hub-nuts\n  - lower: vehicle\n',
  ),
  good: procedure(
    'parts: { hub: { role: wheel, fasteners: hub-nuts } }\nfasteners:\n  hub-nuts: { count: 5, thread: M14x1.5, class: "10", drive: 21 AF, reuse: always, threads: dry, sequence: star, re-torque: not-needed, stages: [{ torque: 160 N·m }] }\nsteps:\n  - raise: vehicle\n  - remove: hub\nclose-up:\n  - fit: hub\n  - tighten: hub-nuts\n  - lower: vehicle\n',
  ),
  check(context, tell) {
    const held = new Map<object, ReadonlySet<string>>();
    for (const { id, group, document, at } of context.fasteners) {
      const holdsWheel = once(held, document, () => holdingWheels(document)).has(id);
      if (holdsWheel && group['re-torque'] === undefined && !group.stages?.some((stage) => stage.after))
        tell({
          span: at(),
          message: `\`${id}\` holds a wheel and does not say whether it is tightened again. Add \`{ torque: …, after: distance, distance: 80 km }\`, or write \`re-torque: not-needed\`.`,
        });
      const later = group['re-torque'] === 'not-needed' ? group.stages?.find((stage) => stage.after) : undefined;
      if (later)
        tell({
          span: spanOf(group, 're-torque'),
          message: `\`${id}\` is not to be tightened again, and has a stage for it (\`after: ${later.after}\`). Delete one of the two.`,
        });
      if (group['re-torque'] === 'needed' && !group.stages?.some((stage) => stage.after))
        tell({
          span: spanOf(group, 're-torque'),
          message: `\`${id}\` is to be tightened again, but no stage says when. Add a stage with \`after: run\`, heat-cycle or distance.`,
        });
    }
  },
};
