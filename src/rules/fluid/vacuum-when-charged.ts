import { called } from '../../ledger/called.js';
import { spanOfObject, stepWords } from '../context.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import { wordsOf } from '../../library/names-in-words.js';
import type { Rule } from '../rule.js';

const careful = '    warning: It freezes skin and eyes.\n    wear: [gloves, eyes]\n    qualification: refrigerants\n';
const work = (first: string, second: string): Readonly<Record<string, string>> => ({
  'vehicles/sample-van.yaml': `${exampleLibrary['vehicles/sample-van.yaml']}charges:
  gas: { name: refrigerant, spec: X-1, item: coolant-ready, charge: 500 g, hazard: refrigerant, opened-after: [recovered] }
measurements:
  recovered: { name: refrigerant recovered, unit: g, with: station }
  hold: { name: vacuum after ten minutes, limit: max 30 mbar, with: station, resolution: 1 mbar, outside: Find the leak. }
`,
  'procedures/example.yaml': procedure(
    `parts: { receiver: { name: receiver, circuit: gas, seal: used-again } }\nsteps:\n  - drain: gas\n${careful}  - measure: recovered\n  - remove: receiver\n${careful}close-up:\n  - fit: receiver\n  - test: gas\n    says: Nitrogen, 10 bar.\n    qualification: refrigerants\n${first}${second}`,
  ),
});
const hold = '  - measure: hold\n';
const fill = '  - fill: gas\n    qualification: refrigerants\n';

export const rule: Rule = {
  name: 'fluid/vacuum-when-charged',
  severity: 'warning',
  finds: 'A vacuum is measured in a circuit that is charged already.',
  why: 'There is none any more; what is written down proves nothing, and air and water are in the charge.',
  mend: 'Put the `measure:` before the charge goes in.',
  bad: work(fill, hold.replace('\n', ' # <-\n')),
  good: work(hold, fill),
  check(context, tell) {
    for (const place of context.placesOf('measure')) {
      const { plan, planned } = place;
      const { scope } = planned.participant;
      const vacuum = scope.charges.size > 0 ? planned.objects.find((object) => isOfVacuum(wordsOf(scope, object))) : undefined;
      if (vacuum === undefined) continue;
      const charged = place.before.findLast(({ verb, objects }) => flows.has(verb) && objects.some((object) => scope.charges.has(object)));
      if (charged?.verb !== 'fill') continue;
      tell({
        span: spanOfObject(plan, planned, vacuum),
        about: vacuum,
        message: `${called(planned, vacuum)} is measured after ${stepWords(charged)}: the circuit is full, and there is no vacuum in it. Put this step before that.`,
      });
    }
  },
};

const flows: ReadonlySet<string> = new Set(['fill', 'drain']);

/** Of a circuit that is evacuated, and not of an engine or its brakes; in the languages of the tool. */
const isOfVacuum = (words: string): boolean =>
  /vacuum|vakuum|evacuat|evakuier/.test(words) && !/brake|booster|manifold|inlet|intake|crankcase|brems|saugrohr|kurbelgeh/.test(words);
