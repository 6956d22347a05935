import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/unknown-wait',
  severity: 'error',
  finds: 'A waiting time that the vehicle profile does not have.',
  why: 'Waiting times of restraints, rails and capacitors differ from vehicle to vehicle; there is no default.',
  mend: 'Add it to the profile from the maker’s information, or write a time.',
  bad: { ...job('', 'steps:\n  - wait: capacitor # <-\n') },
  good: job('', 'steps:\n  - wait: ignition-off\n'),
};
