import { oneOf } from '../../findings/suggest.js';
import { stepSpan } from '../context.js';
import { agentsCalled } from '../agents.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const parts = 'parts: { windscreen: { name: windscreen } }\n';

export const rule: Rule = {
  name: 'step/no-agent',
  severity: 'warning',
  finds: 'Something is applied or lubricated, and `agent:` does not say with what, or the step names that and not where it goes.',
  why: 'One grease swells the rubber that another protects; and adhesive that nobody knows of is not waited for.',
  mend: 'Name the part in the step, and what is put on it with `agent:`.',
  bad: procedure(`${parts}steps:\n  - apply: windscreen-adhesive # <-\n`),
  good: procedure(`${parts}steps:\n  - apply: windscreen\n    agent: adhesive\n  - wait: 1 h\n`),
  check(context, tell) {
    for (const place of context.placesOf(putOn)) {
      const { step, verb, objects, participant } = place.planned;
      const [object = ''] = objects;
      if (step.agent && object.replaceAll(' ', '-') !== step.agent) continue;
      const isThing = participant.scope.parts.has(object) || participant.scope.temporaries.has(object);
      const named = isThing ? [] : agentsCalled(object);
      const said = agentsCalled(step.says ?? '');
      const message = step.agent
        ? `\`${object}\` is what is put on, and nothing says where. Name the part, \`${verb}: …\`.`
        : named.length > 0
          ? `\`${object}\` is what is put on, and nothing says where. Name the part, \`${verb}: …\`, and write \`agent: ${named.length === 1 ? named[0] : '…'}\` beside it${named.length > 1 ? ` (${oneOf(named)})` : ''}.`
          : said.length > 0
            ? `What is put on is said in words alone, and not looked at. Write \`agent:\` too: ${oneOf(said)}.`
            : step.says
              ? null
              : `Nothing says with what \`${object}\` is ${verb === 'apply' ? 'coated' : 'lubricated'}. Write \`agent:\`.`;
      if (message !== null) tell({ span: stepSpan(place.planned), message });
    }
  },
};

const putOn = ['apply', 'lubricate'] as const;
