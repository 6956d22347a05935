import { notTold } from '../../plan/cast.js';
import { wantedOf } from '../../plan/needs.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/not-told',
  severity: 'error',
  finds: 'A preparation that is needed and not told on what to work: wheels off, and nobody says which.',
  why: 'Its steps then work on nothing: the sheet lacks them, and still it looks as if they were done.',
  mend: 'Say it where the preparation is needed.',
  bad: {
    'procedures/opened.yaml':
      'kind: preparation\nid: opened\nname: Opened\nparams: { covers: { says: the covers to open } }\nsteps:\n  - remove: $covers\nclose-up:\n  - fit: $covers\n',
    'procedures/example.yaml': procedure('needs:\n  - opened # <-\nsteps:\n  - inspect: leaks\n'),
  },
  good: {
    'procedures/opened.yaml':
      'kind: preparation\nid: opened\nname: Opened\nparams: { covers: { says: the covers to open } }\nsteps:\n  - remove: $covers\nclose-up:\n  - fit: $covers\n',
    'procedures/example.yaml': procedure('needs:\n  - opened: [cover]\nsteps:\n  - inspect: leaks\n'),
  },
  check(context, tell) {
    for (const { plan } of context.plans)
      for (const participant of plan.participants)
        for (const { name, says } of notTold(participant))
          for (const { needs = [] } of context.works)
            for (const [index, need] of needs.entries()) {
              const { id } = participant.document;
              if (wantedOf(need, context.library).id !== id) continue;
              tell({
                span: typeof need === 'string' ? spanOf(needs, index) : spanOf(need, id, 'key'),
                message: `\`${id}\` is not told its \`${name}\`${says ? ` (${says})` : ''}, and works on nothing. Write \`${id}: { ${name}: [ ] }\` with their names in the brackets.`,
              });
            }
  },
};
