import { numberIn } from '../../quantity/quantity.js';
import { spanOf } from '../../schema/origin.js';
import { exampleLibrary } from '../example-library.js';
import type { Rule } from '../rule.js';

/** Minutes; capacitors of a high-voltage system are never empty sooner (common practice, no source). */
const least = 1;

const waiting = (wait: string, mark = ''): Readonly<Record<string, string>> => ({
  'vehicles/sample-van.yaml': `${(exampleLibrary['vehicles/sample-van.yaml'] ?? '').replace('parts:\n', 'parts:\n  inverter: { name: inverter, hazard: high-voltage, opened-after: [discharge] }\n').replace('waits:\n', `waits:\n  discharge: ${wait}${mark}\n`)}`,
});

export const rule: Rule = {
  name: 'hazard/short-wait',
  severity: 'warning',
  looksAt: 'vehicles',
  finds: 'A waiting time of a high-voltage part that is shorter than a minute.',
  why: 'Its capacitors are still charged, and kill.',
  mend: "Look the time up again in the maker's information, with its unit.",
  bad: waiting('10 s', ' # <-'),
  good: waiting('10 min'),
  check(context, tell) {
    for (const { parts = {}, waits = {} } of context.vehicles)
      for (const name of new Set(
        Object.values(parts).flatMap((part) => (part.hazard === 'high-voltage' ? (part['opened-after'] ?? []) : [])),
      )) {
        const wait = waits[name];
        if (wait && numberIn(wait, 'min') < least)
          tell({
            span: spanOf(waits, name),
            message: `After ${wait.text} a high-voltage system may still be charged. Is the unit right? The time is the maker’s.`,
          });
      }
  },
};
