import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';
import { heldAt, takingApart } from '../steps.js';

const topMount = (compress: string, release: string): string =>
  procedure(`parts:
  top-mount: { name: top mount, hazard: spring }
steps:
${compress}  - remove: top-mount # <-
    warning: A spring that flies off kills. Stand beside it, never over it.
    wear: [gloves, eyes]
close-up:
  - fit: top-mount
${release}`);

export const rule: Rule = {
  name: 'hazard/spring-not-held',
  severity: 'error',
  finds: 'What holds a spring under tension comes off while nothing has the spring compressed.',
  why: 'It flies off with the force of a weight of several hundred kilograms.',
  mend: 'Put `compress:` before it, and `release:` when what holds the spring is back and tight.',
  bad: topMount('', ''),
  good: topMount('  - compress: spring\n', '  - release: spring\n'),
  check(context, tell) {
    for (const place of context.placesOf(takingApart)) {
      const { plan, planned } = place;
      for (const { object, source, name } of place.dangers) {
        if (source.hazard !== 'spring' || source['opened-after'] || heldAt(place).size > 0) continue;
        const holds = name === object ? 'holds a spring' : `holds the spring \`${name}\``;
        const compress = name === object ? '`compress:` with the spring' : `\`compress: ${name}\``;
        tell({
          span: spanOfObject(plan, planned, object),
          about: object,
          message: `\`${object}\` ${holds}, and nothing has it compressed here. Put ${compress} before this step, and \`release:\` when \`${object}\` is back and tight.`,
        });
      }
    }
  },
};
