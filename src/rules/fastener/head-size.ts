import { type Drive, parseDrive, usualSizes } from '../../resolve/torque/head-sizes.js';
import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';
import { isScrewedIn } from '../screwed-in.js';

export const rule: Rule = {
  name: 'fastener/head-size',
  severity: 'warning',
  looksAt: 'fasteners',
  finds: 'A head or nut size that no usual fastener of this thread has.',
  why: 'One head size fits two threads: with the wrong thread the torque is wrong too.',
  mend: 'Look the thread and the size up again; a special head may be right.',
  bad: fastener('count: 2, thread: M6, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 9 N·m }]'),
  good: fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }]'),
  check(context, tell) {
    for (const place of context.fasteners) {
      const { group } = place;
      const drive = group.drive ? parseDrive(group.drive) : null;
      if (!drive || !group.thread || !group.class) continue;
      const usual = usualSizes(group.thread, drive.grip);
      // A size between the usual ones is some head standard of its own; one far outside belongs to another thread.
      if (!usual || (drive.size >= Math.min(...usual) - 1 && drive.size <= Math.max(...usual) + 1)) continue;
      if (isScrewedIn(place)) continue;
      const sizes = usual.map((size) => (group.drive ?? '').replace(/\d+(\.\d+)?/, String(size)));
      const meant = otherGrip(group.thread, drive);
      tell({
        span: spanOf(group, 'drive'),
        message: `${group.drive} is no usual size for ${group.thread}; usual are ${sizes.join(', ')}. ${meant ? `Or is it ${meant}?` : 'Is the thread right?'} If the head is special, allow this with a reason.`,
      });
    }
  },
};

/** A size that is usual for the other way to grip a hexagon, outside or inside: how it is written. */
function otherGrip(thread: string, { grip, size, inch }: Drive): string | null {
  if (inch || (grip !== 'hexagon' && grip !== 'key')) return null;
  const other = grip === 'hexagon' ? 'key' : 'hexagon';
  if (!usualSizes(thread, other)?.includes(size)) return null;
  return other === 'key' ? `a socket head: \`${size} hex key\`` : `a hexagon outside: \`${size} AF\``;
}
