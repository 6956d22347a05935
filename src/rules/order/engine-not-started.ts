import { called } from '../../ledger/called.js';
import { spanOfObject, stepWords } from '../context.js';
import { isEngineless } from '../engineless.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';
import { did } from '../steps.js';

const running = (first: string, second: string): string =>
  procedure(`measurements: { pressure: { name: oil pressure, limit: min 3 bar, with: pressure gauge, resolution: 0.1 bar, outside: Look for the leak. } }
steps:
  - clean: bench
final:
  running:
${first}${second}    - stop: engine
`);
const start = '    - start: engine\n      warning: Hands clear of moving parts.\n';
const pressure = '    - measure: pressure\n';

export const rule: Rule = {
  name: 'order/engine-not-started',
  severity: 'warning',
  finds: 'A reading of `final: running:` is taken before anything starts the engine.',
  why: 'A pressure or a voltage with the engine off is another figure, and it passes or fails for nothing.',
  mend: 'Put `start: engine` before it; or move it into `close-up:`, where it is taken with the engine off.',
  bad: running(pressure.replace('pressure\n', 'pressure # <-\n'), start),
  good: running(start, pressure),
  check(context, tell) {
    for (const place of context.placesOf(readings)) {
      const { plan, planned, before, after } = place;
      if (
        planned.moment !== 'running' ||
        isEngineless(planned.participant.scope) ||
        before.some(({ verb, moment }) => verb === 'start' && moment === 'running')
      )
        continue;
      // A reading that is taken while it is cranked.
      const own = before.findLast(({ participant, verb }) => participant === planned.participant && !isReading.has(verb));
      if (own?.verb === 'crank') continue;
      const start = after.find(({ verb, moment }) => verb === 'start' && moment === 'running');
      if (!start && did(before, 'start')) continue;
      const [object = ''] = planned.objects;
      tell({
        span: spanOfObject(plan, planned, object),
        about: object,
        message: `${called(planned, object)} stands in \`final: running:\`, and the engine does not run yet: ${start ? `put this step after ${stepWords(start)}` : 'nothing starts it. Put `start: engine` before this step'}, or into \`close-up:\` if the engine is to be off.`,
      });
    }
  },
};

const readings = ['measure', 'test'] as const;
const isReading: ReadonlySet<string> = new Set(readings);
