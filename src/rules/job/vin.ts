import { checkDigit } from '../../resolve/identity/vin.js';
import { spanOf } from '../../schema/origin.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'job/vin',
  severity: 'warning',
  looksAt: 'jobs',
  finds: 'A vehicle identification number that cannot be: not 17 characters, with I, O or Q, or (North America) with a wrong check digit.',
  why: 'The wrong vehicle gets the right parts.',
  mend: 'Read it from the vehicle again.',
  bad: {
    ...job(''),
    'jobs/example-job.yaml':
      'kind: job\nid: example-job\ndate: "2026-11-25"\nvehicle: sample-van\nplate: AB12\nwork: [example]\nvin: 1O345678901234567 # <-\n',
  },
  good: job('vin: "11111111111111111"\n'),
  check(context, tell) {
    for (const one of context.jobs) {
      const { vin } = one;
      if (vin === undefined) continue;
      const formed = /^[A-HJ-NPR-Z0-9]{17}$/.test(vin);
      if (formed && !(/^[1-5]/.test(vin) && checkDigit(vin) !== vin[8])) continue;
      const why = formed
        ? `its ninth character should be ${checkDigit(vin)} and is ${vin[8]} (check digit of North America)`
        : vin.length !== 17
          ? `it has ${vin.length} characters and not 17 (what has no such number has a \`serial:\`)`
          : 'it contains I, O or Q, or a sign that is none';
      tell({
        span: spanOf(one, 'vin'),
        message: `${vin} cannot be a vehicle identification number: ${why}. Read it from the vehicle again.`,
      });
    }
  },
};
