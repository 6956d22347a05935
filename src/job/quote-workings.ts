import type { Decimal } from 'decimal.js';
import { whereIs } from '../findings/finding.js';
import { digitsOf, moneyText } from '../resolve/price/money.js';
import { spanOf } from '../schema/origin.js';
import type { JobContext } from './context.js';
import { plainNumber } from './format.js';
import type { CompiledLabour } from './labour.js';
import type { Line } from './quote.js';

/** The workings of the lines that are computed, and of the limit up to which nobody calls. */
export function workQuote(
  context: JobContext,
  lines: readonly Line[],
  labour: CompiledLabour,
  labourAmount: Decimal,
  limit: Decimal | null,
  gross: Decimal,
): void {
  const { shop } = context;
  const { supplies, sublet, authority } = shop;
  const money = (amount: Decimal) => moneyText(amount, shop.currency);
  const rounding = `half up to ${digitsOf(shop.currency)} places`;
  for (const [index, line] of lines.entries()) {
    const of = `quote/lines/${index}/amount`;
    if (line.kind === 'labour')
      context.working(() => ({
        of,
        formula: 'hours billed × rate',
        inputs: [...labour.byGrade].map(([grade, hours]) => ({
          name: grade,
          value: `${plainNumber(hours, 2)} h at ${shop.rates[grade] ?? 0}`,
          from: whereIs(spanOf(shop.rates, grade)),
        })),
        result: money(line.amount),
        rounding,
      }));
    if (line.kind === 'supplies' && supplies)
      context.working(() => ({
        of,
        formula: 'labour × rate, at most the cap',
        inputs: [
          { name: 'labour', value: money(labourAmount), from: 'lines above' },
          { name: 'rate', value: supplies.rate.text, from: whereIs(spanOf(supplies, 'rate')) },
          ...(supplies.cap ? [{ name: 'cap', value: money(supplies.cap), from: whereIs(spanOf(supplies, 'cap')) }] : []),
        ],
        result: money(line.amount),
        rounding,
      }));
    if (line.kind === 'sublet' && sublet)
      context.working(() => ({
        of,
        formula: 'price of the other workshop and its markup',
        inputs: [
          { name: line.label, value: money(line.amount), from: whereIs(spanOf(sublet)) },
          ...(sublet.markup ? [{ name: 'markup', value: sublet.markup.text, from: whereIs(spanOf(sublet, 'markup')) }] : []),
        ],
        result: money(line.amount),
        rounding,
      }));
    if (line.kind === 'waste' && shop.waste)
      context.working(() => ({
        of,
        formula: 'Σ amount × fee of each class',
        inputs: [{ name: 'fees', value: 'as in the waste list', from: whereIs(spanOf(shop, 'waste', 'key')) }],
        result: money(line.amount),
        rounding,
      }));
  }
  if (limit && authority)
    context.working(() => ({
      of: 'quote/limit',
      formula: 'gross × (1 + authority)',
      inputs: [
        { name: 'gross', value: money(gross), from: 'this quote' },
        { name: 'authority', value: authority.text, from: whereIs(spanOf(shop, 'authority')) },
      ],
      result: money(limit),
      rounding,
    }));
}
