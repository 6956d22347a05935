import { staysIn } from '../../resolve/measure/judge.js';
import { unknownItem } from '../../job/no-offer.js';
import { spanOf } from '../../schema/origin.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'parts/unknown-item',
  severity: 'error',
  finds: 'An offer or a profile that names a catalogue item which no catalogue declares.',
  why: 'A name that is one letter off is never bought.',
  mend: 'Correct the name, or add the item to a catalogue.',
  bad: 'kind: parts\nid: more\nitems: { seal: { name: seal } }\noffers:\n  - { number: "X-1", contains: { sael: 1 }, price: 2.00 } # <-\n',
  good: 'kind: parts\nid: more\nitems: { seal: { name: seal } }\noffers:\n  - { number: "X-1", contains: { seal: 1 }, price: 2.00 }\n',
  check(context, tell) {
    // Where there is no catalogue at all, nobody has begun to list parts.
    const unknown = (item: string) => !context.isShared('items', item) && context.anyShared('items') && !context.isUnread('parts');
    const told = (item: string) => unknownItem(item, context.allShared('items'));
    for (const catalogue of context.catalogues)
      for (const offer of catalogue.offers)
        for (const item of Object.keys(offer.contains))
          if (unknown(item)) tell({ span: spanOf(offer.contains, item, 'key'), message: told(item) });
    for (const { offers } of context.catalogues)
      for (const { 'together-with': others = {} } of offers)
        for (const item of Object.keys(others)) if (unknown(item)) tell({ span: spanOf(others, item, 'key'), message: told(item) });
    for (const { group } of context.fasteners)
      if (group.item && unknown(group.item)) tell({ span: spanOf(group, 'item'), message: told(group.item) });
    for (const document of [...context.vehicles, ...context.works])
      for (const part of Object.values(document.parts ?? {}))
        for (const item of Object.keys(part.seals ?? {}))
          if (unknown(item)) tell({ span: spanOf(part.seals ?? part, item, 'key'), message: told(item) });
    for (const vehicle of context.vehicles)
      for (const { table } of Object.values(vehicle.choices ?? {}))
        for (const row of table)
          if (row.gives !== staysIn && unknown(row.gives)) tell({ span: spanOf(row, 'gives'), message: told(row.gives) });
  },
};
