import { spanOf } from '../../schema/origin.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

const shop = (taxes: string): string =>
  `kind: shop\nid: sample-shop\nname: Sample shop\ncurrency: EUR\nrates: { mechanic: 60.00 }\n${taxes}validity: 30 d\ntools: { gauge: { type: angle-gauge } }\n`;

export const rule: Rule = {
  name: 'price/usual-tax',
  severity: 'warning',
  finds: 'Several tax categories, and nothing says which of them is the usual one.',
  why: 'Each line has one category. Where two taxes are owed on the same lines, the second is on no quote.',
  mend: 'Write `tax:` with the usual category; a second tax on the same lines stands under `further-taxes:`.',
  bad: { ...job(''), 'shop.yaml': shop('taxes: { federal: 5 %, regional: 7 % } # <-\n') },
  good: {
    ...job(''),
    'shop.yaml': shop('taxes: { federal: 5 % }\nfurther-taxes: { regional: { rate: 7 %, on: [federal] } }\n'),
  },
  compare({ library }, tell) {
    const { shop } = library;
    if (!shop || shop.tax !== undefined) return;
    const [first, ...others] = Object.keys(shop.taxes);
    if (first === undefined || others.length === 0) return;
    tell({
      span: spanOf(shop, 'taxes', 'key'),
      message: `Nothing says which of these taxes is the usual one: \`${first}\` is taken, and of ${others.map((one) => `\`${one}\``).join(', ')} nothing is on a quote where \`tax-on:\` or a fee does not name it. Write \`tax: ${first}\`; a second tax on the same lines stands apart: \`further-taxes: { ${others[0]}: { rate: ${shop.taxes[others[0] ?? '']?.text ?? '…'}, on: [${first}] } }\`.`,
    });
  },
};
