import { notesAt } from '../../ledger/gates.js';
import { parseQuantity } from '../../quantity/quantity.js';
import { stepSpan } from '../context.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const testedWith = (says: string, mark = ''): Readonly<Record<string, string>> => ({
  'shop.yaml': (exampleLibrary['shop.yaml'] ?? '').replace('  gauge:', '  tester: { type: instrument }\n  gauge:'),
  'procedures/example.yaml': procedure(`steps:\n  - pressurise: coolant${mark}\n    with: [tester]\n    says: ${says}\n`),
});

export const rule: Rule = {
  name: 'check/no-test-pressure',
  severity: 'warning',
  finds: 'A circuit is put under pressure, and neither the step nor the profile says to how much.',
  why: 'Too little finds no leak; too much opens the cap or bursts the radiator.',
  mend: 'Write it at the step, or in the profile: `notes: { pressurise coolant: 1.2 bar }`.',
  bad: testedWith('Pump up and watch the gauge.', ' # <-'),
  good: testedWith('To 1.2 bar, ten minutes.'),
  check(context, tell) {
    for (const { planned } of context.placesOf('pressurise')) {
      const { step, objects, participant } = planned;
      const { vehicle } = participant.scope;
      // Of a vehicle that nobody knows the profile may say it.
      if (!vehicle) continue;
      if ([step.says, step.until, step.why, ...notesAt(vehicle, planned)].some((text) => text !== undefined && saysPressure(text)))
        continue;
      const [circuit = ''] = objects;
      tell({
        span: stepSpan(planned),
        about: vehicle.id,
        message: `Nothing says to which pressure \`${circuit}\` of \`${vehicle.id}\` is put. Write it in \`says:\` of the step, or in the vehicle profile: \`notes: { pressurise ${circuit}: … bar }\`.`,
      });
    }
  },
};

/** Whether a figure with a unit of pressure stands anywhere in a text. */
const saysPressure = (text: string): boolean =>
  (text.match(/\d[\d.]*\s?[A-Za-z][\w/]*/g) ?? []).some((figure) => parseQuantity(figure, 'pressure').ok);
