import { hasTorque } from '../../resolve/torque/contact.js';
import { isWhole } from '../../library/written.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'tool/no-angle-gauge',
  severity: 'warning',
  looksAt: 'fasteners',
  finds: 'An angle after a torque in a shop whose tool list has no angle gauge.',
  why: 'Ninety degrees by eye is anything from 70 to 110.',
  mend: 'Add the angle gauge to shop.yaml; a paint mark is used until then.',
  bad: {
    'shop.yaml':
      'kind: shop\nid: sample-shop\nname: Sample shop\ncurrency: EUR\nrates: { mechanic: 60.00 }\ntaxes: { standard: 20 % }\ntools:\n  W-1: { type: torque-wrench, range: 4..20 N·m, due: "2099-01-01" }\n',
    'procedures/example.yaml': fastener(
      'count: 2, thread: M8, class: "10.9", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }, { angle: 90 deg }]',
    ),
  },
  good: fastener(
    'count: 2, thread: M8, class: "10.9", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }, { angle: 90 deg }]',
  ),
  check(context, tell) {
    const { shop } = context.library;
    const tools = shop && isWhole(shop, 'tools') ? shop.tools : undefined;
    const first = context.fasteners.find(({ group }) => hasTorque(group.stages) && group.stages?.some((stage) => stage.angle));
    if (first && tools && !Object.values(tools).some((tool) => tool.type === 'angle-gauge'))
      tell({
        span: first.at(),
        message: `\`${first.id}\` is turned by angle, and the shop's tool list has no angle gauge. Add one (\`type: angle-gauge\`); the sheet asks for a paint mark until then.`,
      });
  },
};
