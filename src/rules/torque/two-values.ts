import type { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'torque/two-values',
  severity: 'error',
  whole: true,
  finds: 'A fastener group declared twice for one vehicle: in its profile and in a procedure, or in two procedures.',
  why: 'Two sheets with two torques for one joint; one of them is wrong.',
  mend: 'Keep it once, in the vehicle profile.',
  bad: procedure(
    'fasteners:\n  pump-bolts: { count: 4, thread: M6, class: "8.8", drive: 10 AF, reuse: always, threads: dry, stages: [{ torque: 8 N·m }] } # <-\nsteps:\n  - inspect: leaks\n',
  ),
  good: procedure('steps:\n  - inspect: leaks\n'),
  *check(context) {
    const seen = new Map<string, { readonly span: ReturnType<typeof spanOf>; readonly text: string }>();
    const text = (group: object) =>
      JSON.stringify(
        (group as { stages?: readonly { torque?: { text: string }; angle?: { text: string } }[] }).stages?.map(
          (stage) => stage.torque?.text ?? stage.angle?.text ?? '',
        ),
      );
    for (const { id, group, document, span } of context.fasteners) {
      const vehicles = document.kind === 'vehicle' ? [document.id] : context.vehiclesFor(document).map((vehicle) => vehicle.id);
      for (const vehicle of vehicles) {
        const key = `${vehicle} ${id}`;
        const first = seen.get(key);
        if (!first) seen.set(key, { span, text: text(group) });
        else
          yield {
            span,
            message:
              first.text === text(group)
                ? `\`${id}\` is declared for \`${vehicle}\` already. One joint, one value: keep it once, in the vehicle profile.`
                : `\`${id}\` has another value for \`${vehicle}\` already: one of the two is wrong. Keep it once, in the vehicle profile.`,
            related: [{ span: first.span, message: 'declared here' }],
          };
      }
    }
  },
};
