import { job } from '../examples.js';
import type { Rule } from '../rule.js';

const work = (found: string): string =>
  `measurements: { height: { name: height, limit: 0.5..0.8 mm, with: dial gauge, outside: A new pump. } }
${found}steps:
  - remove: cover
  - remove: pump
  - measure: height
    id: height
close-up:
  - fit: pump${found === '' ? ' # <-' : ''}
    new: true
    when: { height: outside }
  - fit: pump
    when: { height: inside }
  - tighten: pump-bolts
  - fit: cover
`;

export const rule: Rule = {
  name: 'price/perhaps-unsaid',
  severity: 'warning',
  finds: 'A part, a fluid or sublet work that is needed only after some outcomes, and of which the quote says nothing.',
  why: 'The customer has said yes to another price, and the part is not on the bench.',
  mend: 'Write `might-find:` with what one case takes.',
  bad: job('', work('')),
  good: job('', work('might-find:\n  worn: { says: the pump is worn, at: height, items: { pump: 1 } }\n')),
};
