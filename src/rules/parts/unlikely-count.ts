import { exampleLibrary } from '../example-library.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

const filled = (contains: string, mark = ''): Readonly<Record<string, string>> => ({
  ...job('', 'steps:\n  - open: tap\n  - drain: coolant\nclose-up:\n  - close: tap\n  - fill: coolant\n'),
  'parts/sample.yaml': (exampleLibrary['parts/sample.yaml'] ?? '').replace(
    'coolant-ready: 5 L }, price: 20.00 }',
    `coolant-ready: ${contains} }, price: 20.00 }${mark}`,
  ),
});

export const rule: Rule = {
  name: 'parts/unlikely-count',
  severity: 'warning',
  finds: 'An offer that a job would buy hundreds of times.',
  why: 'Millilitres stand there for litres, and the customer pays a thousand cans.',
  mend: 'Correct what the offer contains.',
  bad: filled('5 mL', ' # <-'),
  good: filled('5 L'),
};
