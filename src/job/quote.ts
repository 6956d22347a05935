import type { Decimal } from 'decimal.js';
import { didYouMean } from '../findings/suggest.js';
import { once } from '../once.js';
import type { PlanStep } from '../plan/plan.js';
import { inUnit, numberIn, nominalOf } from '../quantity/quantity.js';
import { D } from '../quantity/units.js';
import { moneyText, percentOf, roundMoney, sum } from '../resolve/price/money.js';
import { totalsOf } from '../resolve/price/totals.js';
import type { CompiledJob, QuoteLine } from '../schema/generated/compiled-job.js';
import type { MightFind } from '../schema/generated/types.js';
import { isDamaged, spanOf } from '../schema/origin.js';
import type { JobContext } from './context.js';
import type { CompiledLabour } from './labour.js';
import { tellNoOffer } from './no-offer.js';
import type { CompiledParts } from './parts.js';
import { workQuote } from './quote-workings.js';
import { compileWaste } from './waste.js';
import { plainNumber } from './format.js';
import { findWords, foundIn, howMany, isSettled, openFinds, tellPerhaps } from './perhaps.js';
import { asPart } from '../words/words.js';

export type LineKind = 'labour' | 'parts' | 'fluids' | 'supplies' | 'sublet' | 'waste' | 'fee' | 'discount';

export interface Line {
  readonly kind: LineKind;
  readonly label: string;
  readonly amount: Decimal;
  readonly tax: string;
}

export interface CompiledQuote {
  readonly quote: CompiledJob['quote'];
  readonly waste: CompiledJob['waste'];
}

/** More things that might be found than this are not combined: the quote would say nothing any more. */
const mostCombined = 6;

/** The quote: what is expected, and what it becomes with what might be found. */
export function compileQuote(
  context: JobContext,
  labour: CompiledLabour,
  parts: CompiledParts,
  fluidWaste: ReadonlyMap<string, Decimal>,
): CompiledQuote {
  const { shop } = context;
  const { currency } = shop;
  const names = context.words.job;
  const rateOf = (grade: string): Decimal => shop.rates[grade] ?? new D(0);
  const line = (kind: LineKind, label: string, amount: Decimal, tax?: string): Line => ({
    kind,
    label,
    amount,
    tax: tax ?? categoryOf(context, kind),
  });
  const labourLines = [...labour.byGrade].map(([grade, hours]) =>
    line(
      'labour',
      names.labour(plainNumber(hours, 2), labour.byGrade.size > 1 ? spaced(grade) : null),
      roundMoney(hours.times(rateOf(grade)), currency),
    ),
  );
  const labourAmount = sum(labourLines.map((line) => line.amount));
  const waste = compileWaste(context, fluidWaste, parts.waste);
  const sublets = subletWork(context).map(({ id, amount }) => line('sublet', names.sublet(spaced(id)), amount));

  const lines: Line[] = [...labourLines];
  if (parts.total.gt(0)) lines.push(line('parts', names.parts, parts.total));
  if (parts.fluidTotal.gt(0)) lines.push(line('fluids', names.fluids, parts.fluidTotal));
  const supplies = suppliesFor(context, labourAmount);
  if (supplies.gt(0)) lines.push(line('supplies', names.supplies, supplies));
  lines.push(...sublets);
  const wasteAmount = sum(waste.map((one) => new D(one.fee)));
  if (wasteAmount.gt(0)) lines.push(line('waste', names.waste, wasteAmount));
  for (const fee of Object.values(shop.fees ?? {})) lines.push(line('fee', fee.says, roundMoney(fee.amount, currency), fee.tax));
  lines.push(...discountsOn(context, lines));

  const totals = price(context, lines);
  const limit = shop.authority ? roundMoney(totals.gross.plus(percentOf(totals.gross, nominalOf(shop.authority))), currency) : null;
  const extra = (found: readonly Found[]) => {
    const hours = sum(found.map((one) => one.hours));
    const rate = rateOf(shop.grade ?? Object.keys(shop.rates)[0] ?? '');
    const added: Line[] = found.flatMap((one) => one.lines(rate));
    const withoutSupplies = lines.filter((line) => line.kind !== 'supplies');
    const more = suppliesFor(context, labourAmount.plus(roundMoney(hours.times(rate), currency)));
    return price(context, [...withoutSupplies, ...(more.gt(0) ? [line('supplies', names.supplies, more)] : []), ...added]);
  };
  const cases = subsets(mayBeFound(context, parts)).map((found) => {
    const result = extra(found);
    return { found, result, over: limit !== null && result.gross.gt(limit), step: Math.max(...found.map((one) => one.step)) };
  });
  const grade = shop.grade ?? Object.keys(shop.rates)[0] ?? '';
  workQuote(context, lines, labour, labourAmount, limit, totals.gross);
  context.working(() => ({
    of: 'quote/gross',
    formula: 'net = Σ lines; tax = net of each category × rate, rounded once; gross = net + taxes (EN 16931)',
    inputs: [
      ...lines.map((line) => ({ name: line.label, value: moneyText(line.amount, currency), from: line.kind })),
      ...totals.taxes.map((tax) => ({
        name: `tax ${tax.category}`,
        value: `${tax.rate} % of ${moneyText(tax.base, currency)} = ${moneyText(tax.tax, currency)}`,
        from: 'shop.yaml',
      })),
    ],
    result: moneyText(totals.gross, currency),
    rounding: 'half up at each line and each tax category',
  }));
  return {
    waste,
    quote: {
      lines: lines.map(
        (line): QuoteLine => ({
          id: line.kind,
          label: line.label,
          amount: moneyText(line.amount, currency),
          tax: line.tax,
        }),
      ),
      net: moneyText(totals.net, currency),
      taxes: totals.taxes.map((tax) => ({
        category: tax.category,
        rate: tax.rate.toString(),
        base: moneyText(tax.base, currency),
        amount: moneyText(tax.tax, currency),
      })),
      gross: moneyText(totals.gross, currency),
      limit: limit ? moneyText(limit, currency) : null,
      saved: { hours: plainNumber(labour.saved, 2), amount: moneyText(labour.saved.times(rateOf(grade)), currency) },
      deposits: moneyText(parts.deposits, currency),
      validUntil: shop.validity ? addDays(context.job.date, Math.round(numberIn(shop.validity, 'd'))) : null,
      known: foundIn(context).map(({ thing }) => findWords(thing)),
      found: cases.map((one) => ({
        what: one.found.map((thing) => thing.says),
        net: moneyText(one.result.net, currency),
        tax: moneyText(sum(one.result.taxes.map((tax) => tax.tax)), currency),
        gross: moneyText(one.result.gross, currency),
        call: one.over ? one.step : null,
        step: one.step,
      })),
      alternatives: [],
    },
  };
}

/** What is taken off: one line for each tax category that it touches, so that the tax goes down with it. */
function discountsOn(context: JobContext, lines: readonly Line[]): Line[] {
  const { currency } = context.shop;
  return (context.job.discounts ?? []).flatMap((discount): Line[] => {
    const on = lines.filter((one) => discount.on === 'all' || one.kind === discount.on);
    const categories = [...new Set(on.map((one) => one.tax))];
    if (discount.amount)
      return [
        {
          kind: 'discount',
          label: discount.says,
          amount: roundMoney(discount.amount, currency).neg(),
          tax: categories[0] ?? categoryOf(context, 'discount'),
        },
      ];
    const { rate } = discount;
    if (!rate) return [];
    return categories.map((tax) => {
      const base = sum(on.filter((one) => one.tax === tax).map((one) => one.amount));
      return {
        kind: 'discount',
        label: `${asPart(discount.says)} (${rate.text})`,
        amount: roundMoney(percentOf(base, nominalOf(rate)), currency).neg(),
        tax,
      };
    });
  });
}

const spaced = (id: string): string => id.replaceAll('-', ' ');

const categoryOf = ({ shop }: JobContext, kind: LineKind): string =>
  (kind === 'fee' || kind === 'discount' ? undefined : shop['tax-on']?.[kind]) ?? shop.tax ?? Object.keys(shop.taxes)[0] ?? '';

function price(context: JobContext, lines: readonly Line[]) {
  const rates = new Map(Object.entries(context.shop.taxes).map(([category, rate]) => [category, nominalOf(rate)]));
  return totalsOf(
    lines,
    rates,
    context.shop.currency,
    Object.entries(context.shop['further-taxes'] ?? {}).map(([category, tax]) => ({
      category,
      rate: nominalOf(tax.rate),
      on: tax.on,
      compound: tax.compound ?? false,
    })),
  );
}

function suppliesFor(context: JobContext, labour: Decimal): Decimal {
  const { supplies, currency } = context.shop;
  if (!supplies) return new D(0);
  const amount = roundMoney(percentOf(labour, nominalOf(supplies.rate)), currency);
  return supplies.cap ? D.min(amount, supplies.cap) : amount;
}

/** What other workshops do for this job whatever the outcomes are, in the order of the steps, with the price of each. */
function subletWork(context: JobContext): { readonly id: string; readonly amount: Decimal }[] {
  const byWork = new Map<string, PlanStep[]>();
  for (const step of context.plan.steps) if (step.step.for !== undefined) once(byWork, step.step.for, () => []).push(step);
  const sent = [...byWork].flatMap(([id, steps]) => {
    const [first] = steps;
    if (!first) return [];
    const amount = subletPrice(context, id, () => spanOf(first.step, 'for'));
    const { least, most } = howMany(context, steps);
    const perhaps = steps.find((step) => step.conditional);
    if (least < most && perhaps) tellPerhaps(context, perhaps, id, 'sublet');
    return Array.from({ length: least }, () => ({ id, amount }));
  });
  // What is known to be found is mostly sent by a step that waits for it.
  const besides = foundIn(context).flatMap(({ thing }) => {
    const { sublet } = thing;
    if (sublet === undefined || byWork.get(sublet)?.some((step) => isSettled(context, step))) return [];
    return [{ id: sublet, amount: subletPrice(context, sublet, () => spanOf(thing, 'sublet')) }];
  });
  return [...sent, ...besides];
}

function subletPrice(context: JobContext, id: string, at: () => ReturnType<typeof spanOf>): Decimal {
  const { sublet, currency } = context.shop;
  const amount = sublet?.prices?.[id];
  if (!amount) {
    if (isDamaged(context.shop)) return new D(0);
    context.report(
      'price/unknown-sublet',
      `The shop has no price for the sublet work \`${id}\`.${didYouMean(id, Object.keys(sublet?.prices ?? {}))} Add it under \`sublet: prices:\` in shop.yaml.`,
      at(),
    );
    return new D(0);
  }
  return roundMoney(sublet?.markup ? amount.plus(percentOf(amount, nominalOf(sublet.markup))) : amount, currency);
}

interface Found {
  readonly says: string;
  readonly step: number;
  readonly hours: Decimal;
  readonly lines: (rate: Decimal) => Line[];
}

function mayBeFound(context: JobContext, parts: CompiledParts): Found[] {
  const { currency } = context.shop;
  return openFinds(context)
    .map(({ thing, at }): Found => {
      const times = thing.count ?? 1;
      const hours = thing.labour ? inUnit(thing.labour, 'h').times(times) : new D(0);
      return {
        says: findWords(thing),
        step: context.numberOf(at),
        hours,
        lines: (rate) => foundLines(context, thing, hours, times, rate, parts, currency),
      };
    })
    .sort((a, b) => a.step - b.step)
    .slice(0, mostCombined);
}

function foundLines(
  context: JobContext,
  thing: MightFind,
  hours: Decimal,
  times: number,
  rate: Decimal,
  parts: CompiledParts,
  currency: string,
): Line[] {
  const lines: Line[] = [];
  const add = (kind: LineKind, label: string, amount: Decimal) => void lines.push({ kind, label, amount, tax: categoryOf(context, kind) });
  if (thing.sublet)
    add(
      'sublet',
      spaced(thing.sublet),
      subletPrice(context, thing.sublet, () => spanOf(thing, 'sublet')),
    );
  if (hours.gt(0)) add('labour', context.words.job.labour(plainNumber(hours, 2), null), roundMoney(hours.times(rate), currency));
  for (const [item, amount] of Object.entries(thing.items ?? {})) {
    const price = parts.priceOf(item, amount, times);
    if (price) add('pieces' in amount ? 'parts' : 'fluids', item, roundMoney(price, currency));
    else
      tellNoOffer(
        context,
        item,
        `Nothing in the parts catalogues contains \`${item}\`, which might be needed. Add an offer with its number and price.`,
        spanOf(thing.items ?? thing, item),
      );
  }
  return lines;
}

/** All combinations of what might be found, smallest first. */
function subsets<T>(things: readonly T[]): T[][] {
  const all: T[][] = [];
  for (let mask = 1; mask < 2 ** things.length; mask++) all.push(things.filter((_, index) => (mask >> index) & 1));
  return all.sort((a, b) => a.length - b.length);
}

/** Calendar days after a date; UTC, so that no clock of any place matters. */
function addDays(date: string, days: number): string {
  const [year = 1970, month = 1, day = 1] = date.split('-').map(Number);
  return new Date(Date.UTC(year, month - 1, day + days)).toISOString().slice(0, 10);
}
