import { isDamaged, spanOf } from '../../schema/origin.js';
import type { Part } from '../../schema/generated/types.js';
import { exampleLibrary } from '../example-library.js';
import type { Rule } from '../rule.js';

const van = exampleLibrary['vehicles/sample-van.yaml'] ?? '';

export const rule: Rule = {
  name: 'parts/no-role',
  severity: 'warning',
  looksAt: 'vehicles',
  finds: 'A part that by its name is the clamp of the battery or a wheel, without that role.',
  why: 'What must be before the battery is off, or the vehicle on its wheels, is looked for by the role.',
  mend: 'Write `role: battery` or `role: wheel`; or give it a name that says what else it is.',
  bad: { 'vehicles/sample-van.yaml': van.replace(/name: front wheel, role: wheel, (.*)/, 'name: front wheel, $1 # <-') },
  good: { 'vehicles/sample-van.yaml': van },
  check(context, tell) {
    for (const vehicle of context.vehicles) {
      const parts = vehicle.parts ?? {};
      // The battery has several things about it that are called after it, and one that is taken off first.
      const isClampKnown = Object.values(parts).some(({ role }) => role === 'battery');
      for (const [id, part] of Object.entries(parts)) {
        const named = isDamaged(part) ? null : roleOf(id, part);
        const role = named === 'battery' && isClampKnown ? null : named;
        if (role && part.role !== role)
          tell({
            span: part.role ? spanOf(part, 'role') : spanOf(parts, id, 'key'),
            message: `\`${id}\` seems to be ${role === 'battery' ? 'the clamp of the battery' : 'a wheel'}, and has ${part.role ? 'another' : 'no'} role: nothing then asks for what must be done before. Write \`role: ${role}\`.`,
          });
      }
    }
  },
};

/** Names in the languages of the tool. Of other things with a wheel in their name none is held by fasteners that are a wheel's. */
const battery = /^(battery|batterie)(-(negative|positive|minus|plus|clamp|terminal|lead|pole?|klemme|minuspol|pluspol))?$/;
const wheel = /(^|-)(wheels?|rad|raeder)$/;
const otherWheel = /steering|hand|gear|fly|spare|lenk|zahn|schwung|hand|reserve|ersatz|not-?rad/;

function roleOf(id: string, { fasteners }: Part): 'battery' | 'wheel' | null {
  if (battery.test(id)) return 'battery';
  return fasteners !== undefined && wheel.test(id) && !otherWheel.test(id) ? 'wheel' : null;
}
