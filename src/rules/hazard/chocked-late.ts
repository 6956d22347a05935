import type { Scope } from '../../library/scope.js';
import { spanOfObject, stepSpan, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import { inWords } from '../names-in-words.js';
import type { Rule } from '../rule.js';
import { heightAt } from '../steps.js';

const axle = (first: string, second: string): string =>
  procedure(`temporaries: { chocks: { name: wheel chocks, count: 2 } }
steps:
${first}${second}  - support: front-axle
final:
  ground:
    - unsupport: front-axle
    - lower: front-axle
    - clear: chocks
`);
const place = '  - place: chocks\n';
const raise = '  - raise: front-axle\n';

export const rule: Rule = {
  name: 'hazard/chocked-late',
  severity: 'warning',
  finds: 'The wheels are chocked when the vehicle is up already (common practice, no source).',
  why: 'It rolls off the jack while the axle goes up.',
  mend: 'Put the chocks in before `raise:`.',
  bad: axle(raise, place.replace('chocks\n', 'chocks # <-\n')),
  good: axle(place, raise),
  check(context, tell) {
    for (const at of context.placesOf('place'))
      for (const object of at.planned.objects) {
        if (!isChock(at.planned.participant.scope, object)) continue;
        const { up } = heightAt(at);
        if (!up) continue;
        tell({
          span: spanOfObject(at.plan, at.planned, object),
          about: object,
          message: `${stepWords(at.planned)} comes after ${stepWords(up)}: nothing keeps the vehicle from rolling while it goes up. Put this step before that.`,
          related: [{ span: stepSpan(up), message: 'it goes up here' }],
        });
      }
  },
};

/** By its name; in the languages of the tool. */
const isChock = ({ temporaries }: Scope, object: string): boolean =>
  /\bchocks?\b|\b(unterleg|rad|vorleg)?keile?\b/.test(inWords(object, temporaries.get(object)?.name));
