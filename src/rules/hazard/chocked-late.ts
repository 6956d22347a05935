import type { Scope } from '../../library/scope.js';
import { once } from '../../once.js';
import { spanOfObject, stepSpan, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import { inWords } from '../../library/names-in-words.js';
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
        if (!chocksOf(at.planned.participant.scope).has(object)) continue;
        const { up } = heightAt(at);
        if (!up) continue;
        const { document } = up.participant;
        const before =
          document === at.planned.participant.document
            ? 'Put this step before that.'
            : `Put it into a preparation of its own, and need that before \`${document.id}\`.`;
        tell({
          span: spanOfObject(at.plan, at.planned, object),
          about: object,
          message: `${stepWords(at.planned)} comes after ${stepWords(up)}: nothing keeps the vehicle from rolling while it goes up. ${before}`,
          related: [{ span: stepSpan(up), message: 'it goes up here' }],
        });
      }
  },
};

const known = new WeakMap<object, ReadonlySet<string>>();

/** What keeps wheels from rolling, by its name; in the languages of the tool. Found out once for all documents that see the same things. */
const chocksOf = ({ things, temporaries }: Scope): ReadonlySet<string> =>
  once(
    known,
    things,
    () =>
      new Set(
        [...temporaries].flatMap(([id, { name }]) => (/\bchocks?\b|\b(unterleg|rad|vorleg)?keile?\b/.test(inWords(id, name)) ? [id] : [])),
      ),
  );
