import { spanOf } from '../../schema/origin.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'tool/powered',
  severity: 'warning',
  finds: 'A powered tool tightens a joint that has a torque.',
  why: 'An impact wrench knows no newton metre.',
  mend: 'Take it out of `with:`; it may run bolts down by hand-start stages only.',
  bad: {
    'shop.yaml': (exampleLibrary['shop.yaml'] ?? '').replace('  gauge:', '  gun: { type: powered }\n  gauge:'),
    'procedures/example.yaml': procedure(
      'steps:\n  - raise: vehicle\n  - remove: wheel\nclose-up:\n  - fit: wheel\n  - tighten: wheel-nuts\n    with: [gun] # <-\n  - lower: vehicle\n  - tighten: wheel-nuts\n    wheels: on-ground\n',
    ),
  },
  good: {
    'shop.yaml': (exampleLibrary['shop.yaml'] ?? '').replace('  gauge:', '  gun: { type: powered }\n  gauge:'),
    'procedures/example.yaml': procedure(
      'steps:\n  - raise: vehicle\n  - remove: wheel\n    with: [gun]\nclose-up:\n  - fit: wheel\n  - tighten: wheel-nuts\n  - lower: vehicle\n  - tighten: wheel-nuts\n    wheels: on-ground\n',
    ),
  },
  check(context, tell) {
    const tools = context.library.shop?.tools ?? {};
    for (const { step, verb } of context.steps) {
      const powered = verb === 'tighten' ? step.with?.find((id) => tools[id]?.type === 'powered') : undefined;
      if (powered)
        tell({
          span: spanOf(step, 'with'),
          message: `\`${powered}\` is a powered tool, and this joint is tightened to a torque. Take it out of \`with:\`; the torque wrench comes by itself.`,
        });
    }
  },
};
