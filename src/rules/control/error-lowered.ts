import { exampleLibrary } from '../example-library.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'control/error-lowered',
  severity: 'error',
  finds: 'A rule of severity error that shop.yaml makes less.',
  why: 'A torque from a half-understood file is worse than no sheet.',
  mend: 'Allow it at the line where it stands, with a reason.',
  bad: { 'shop.yaml': `${exampleLibrary['shop.yaml']}rules: { ledger/left-open: warning } # <-\n` },
  good: { 'shop.yaml': `${exampleLibrary['shop.yaml']}rules: { step/vague: error }\n` },
};
