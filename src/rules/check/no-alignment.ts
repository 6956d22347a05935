import { ofAlignment } from '../alignment.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';
import { notSetAgain, partsCalled, type SetAgain } from '../set-again.js';

const trackRod = (after: string): string =>
  procedure(`parts: { track-rod: { name: left track rod } }\nsteps:\n  - remove: track-rod # <-\nclose-up:\n  - fit: track-rod\n${after}`);

export const rule: Rule = {
  name: 'check/no-alignment',
  severity: 'info',
  finds: 'What guides or steers a wheel was off, and no step after that measures or sets the wheel alignment (common practice, no source).',
  why: 'The steering wheel stands askew, and the tyres are worn in a month.',
  mend: 'Add the measurement of the toe to `final: ground:`, or `send:` the vehicle to be measured.',
  bad: trackRod(''),
  good: trackRod('final:\n  ground:\n    - adjust: toe\n      says: To the figures of the maker, on the rig.\n'),
  check(context, tell) {
    for (const { place, object } of notSetAgain(context, guides))
      tell({
        span: spanOfObject(place.plan, place.planned, object),
        about: object,
        message: `\`${object}\` is off here, and no step after it measures or sets the wheel alignment. Where the maker asks for that, add it to \`final: ground:\`.`,
      });
  },
};

/** What holds the wheels in their direction. */
const guides: SetAgain = {
  parts: partsCalled(
    /\b(track|tie) ?rod|\bsteering (rack|gear)|\b(control|suspension) arm|\bwishbone|\bstrut\b|\bsubframe|spurstange|lenkgetriebe|querlenker|federbein|achstr(ä|ae)ger/,
  ),
  isOf: (words) => ofAlignment.test(words),
};
