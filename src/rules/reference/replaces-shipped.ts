import { spanOf } from '../../schema/origin.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/replaces-shipped',
  severity: 'info',
  finds: 'A document of the shop that takes the place of one that comes with the tool.',
  why: "Everything that needs the shipped one gets the shop's.",
  mend: 'Nothing, if that is meant; otherwise give it another id.',
  bad: {
    'procedures/vehicle-raised.yaml':
      'kind: preparation\nid: vehicle-raised # <-\nname: Vehicle raised our way\nsteps:\n  - raise: vehicle\nclose-up:\n  - lower: vehicle\n',
    'baywright:procedures/vehicle-raised.yaml':
      'kind: preparation\nid: vehicle-raised\nname: Vehicle raised\nsteps:\n  - raise: vehicle\nclose-up:\n  - lower: vehicle\n',
  },
  good: {
    'procedures/our-lift.yaml':
      'kind: preparation\nid: our-lift\nname: Vehicle raised our way\nsteps:\n  - raise: vehicle\nclose-up:\n  - lower: vehicle\n',
  },
  compare({ library }, tell) {
    for (const { own, shipped } of library.replaced)
      if (own.document && shipped.card)
        tell({
          span: spanOf(own.document, 'id'),
          message: `This takes the place of the ${shipped.card.kind} of the same id that comes with the tool.`,
        });
  },
};
