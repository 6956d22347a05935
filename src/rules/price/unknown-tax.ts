import { renameFix } from '../../findings/fixes.js';
import { didYouMean } from '../../findings/suggest.js';
import { isDamaged, spanOfName } from '../../schema/origin.js';
import { exampleLibrary } from '../example-library.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

const shop = exampleLibrary['shop.yaml'] ?? '';

export const rule: Rule = {
  name: 'price/unknown-tax',
  severity: 'error',
  finds: 'A tax category that the shop does not have.',
  why: 'Its lines would stand on the quote without tax.',
  mend: 'Correct the name, or add the category with its rate under `taxes:`.',
  bad: { ...job(''), 'shop.yaml': `${shop}tax: standart # <-\n` },
  good: { ...job(''), 'shop.yaml': `${shop}tax: standard\n` },
  compare({ library }, tell) {
    const { shop } = library;
    if (!shop) return;
    const known = Object.keys(shop.taxes);
    const look = (holder: object, key: string, category: string | undefined) => {
      if (category === undefined || known.includes(category) || isDamaged(shop.taxes)) return;
      const span = spanOfName(holder, key, category);
      tell({
        span,
        fix: renameFix(span, category, known),
        message: `There is no tax category \`${category}\`.${didYouMean(category, known)} Correct the name, or add it with its rate under \`taxes:\`.`,
      });
    };
    look(shop, 'tax', shop.tax);
    for (const [what, category] of Object.entries(shop['tax-on'] ?? {})) look(shop['tax-on'] ?? shop, what, category);
    for (const fee of Object.values(shop.fees ?? {})) look(fee, 'tax', fee.tax);
    for (const tax of Object.values(shop['further-taxes'] ?? {})) for (const category of tax.on) look(tax, 'on', category);
  },
};
