import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { type Block, blanks, framed, heading, paragraph, plainStyle, type Style, smallStyle, space, stack, strongStyle } from './blocks.js';
import { table } from './rows.js';
import type { Measure, Paper } from './page.js';
import { contentWidth } from './paginate.js';
import { paperOf } from './paper.js';
import { type Setting, settingOf } from './setting.js';
import { rule, sizes } from './style.js';
import { asPart } from '../words/words.js';

/** The quote, in the customer's words: no internal cost, no torque. */
export function quotePaper(job: CompiledJob, measure: Measure): Paper {
  const width = contentWidth(job.shop.paper);
  const set = settingOf(job, measure);
  const { quote: words } = set.words;
  const { quote, shop, order } = job;
  const say = (text: string, style: Style = plainStyle): Block => paragraph(set, text, width, style);
  const blocks: Block[] = [
    ...opening(job, set, width),
    space(6),
    heading(set, words.what, width),
    ...job.work.map((one) => say(`• ${one.what}${one.why ? ` ${one.why}` : ''}`)),
    ...quote.known.map((one) => say(`• ${words.known(asPart(one))}`)),
    space(6),
    heading(set, words.price, width),
    ...prices(job, set, width),
  ];
  const reasons = [...new Set(job.labour.operations.flatMap(({ factor, reason }) => (factor !== null && reason !== null ? reason : [])))];
  if (reasons.length > 0) blocks.push(say(words.access(reasons.map(asPart).join('; ')), smallStyle));
  if (Number(quote.saved.hours) > 0) blocks.push(say(words.saved(set.figure(quote.saved.hours)), strongStyle));
  if (Number(quote.deposits) > 0) blocks.push(say(words.deposits(set.money(quote.deposits))));
  blocks.push(...mayChange(job, set, width), ...otherWays(job, set, width));
  if (order.notWanted.length > 0) blocks.push(space(4), say(words.notWanted(order.notWanted.map(asPart).join('; '))));
  const signed = [
    { key: 'quote/name', label: words.name, width: 90 },
    { key: 'quote/date', label: words.dateBlank, width: 90 },
    { key: 'quote/signature', label: words.signature, width: 170 },
  ];
  blocks.push(
    space(6),
    say(`${words.newYes}${shop.warranty ? ` ${shop.warranty}` : ''}`, smallStyle),
    space(8),
    blanks(set, signed, width),
  );
  return paperOf(job, set, 'quote', blocks, { forCustomer: true, subject: job.work.map((one) => one.what).join(' ') });
}

/** Who offers, to whom, until when, for which vehicle, and why. */
function opening(job: CompiledJob, set: Setting, width: number): Block[] {
  const { quote: words } = set.words;
  const { quote, shop, order, vehicle } = job;
  const dates = [
    order.customer ? words.customer(order.customer) : null,
    words.date(set.longDate(job.date)),
    quote.validUntil ? words.validUntil(set.longDate(quote.validUntil)) : null,
  ];
  const meters = [vehicle.odometer, vehicle.hours].map((reading) => reading && set.figure(reading));
  const named = [vehicle.name, vehicle.plate, ...meters];
  const joined = (parts: readonly (string | null)[]) => parts.filter((part) => part !== null).join(' · ');
  return [
    paragraph(set, shop.name, width, { size: sizes.title, weight: 'bold' }),
    paragraph(set, shop.address.join(', '), width, smallStyle),
    space(8),
    paragraph(set, joined(dates), width, strongStyle),
    paragraph(set, joined(named), width),
    ...(order.complaint ? [paragraph(set, words.youTold(order.complaint), width)] : []),
    ...(order.confirmed ? [paragraph(set, words.weFound(order.confirmed), width)] : []),
  ];
}

function prices(job: CompiledJob, set: Setting, width: number): Block[] {
  const { quote: words } = set.words;
  const { quote, shop } = job;
  const columns = [
    { title: words.line, share: 6 },
    { title: shop.currency, share: 2, right: true },
  ];
  const lines = quote.lines.map((line) => [line.id === 'labour' ? set.figure(line.label) : line.label, set.money(line.amount)]);
  const taxes = quote.taxes.map((tax) => [
    words.tax(set.figure(tax.rate), set.money(tax.base), quote.taxes.length > 1 ? tax.category : null),
    set.money(tax.amount),
  ]);
  const large = (text: string): Block => paragraph(set, text, width, { size: sizes.heading, weight: 'bold' });
  const total = [large(words.total(shop.currency)), large(set.money(quote.gross))];
  return table(set, columns, [...lines, [words.net, set.money(quote.net)], ...taxes, total], width);
}

/** What might be found, what it would make of the total, and where somebody calls. */
function mayChange(job: CompiledJob, set: Setting, width: number): Block[] {
  const { quote: words } = set.words;
  const { quote, shop } = job;
  if (quote.found.length === 0) return [];
  const amount = (money: string) => `${shop.currency} ${set.money(money)}`;
  const inner = width - 16;
  const rows = quote.found.map((one) =>
    paragraph(set, words.found(set.words.list(one.what.map(asPart)), amount(one.gross), one.call !== null), inner),
  );
  const limit = quote.limit ? [paragraph(set, words.limit(amount(quote.limit)), inner, smallStyle)] : [];
  return [space(6), framed(stack([paragraph(set, words.mayChange, inner, strongStyle), ...rows, ...limit], 3), width, 8, rule.thin)];
}

function otherWays(job: CompiledJob, set: Setting, width: number): Block[] {
  const { quote: words } = set.words;
  const { quote, shop, labour } = job;
  if (quote.alternatives.length === 0) return [];
  const hours = (text: string) => `${set.figure(text)} h`;
  const rows = [
    [words.asAbove, hours(labour.billed), set.money(quote.gross), ''],
    ...quote.alternatives.map((one) => [
      one.says,
      hours(one.hours),
      set.money(one.gross),
      `${Number(one.difference) > 0 ? '+' : ''}${set.money(one.difference)}`,
    ]),
  ];
  const columns = [
    { title: words.columns.ways, share: 5 },
    { title: words.columns.work, share: 1.4, right: true },
    { title: `${words.columns.total} ${shop.currency}`, share: 2, right: true },
    { title: words.columns.difference, share: 2, right: true },
  ];
  return [space(6), ...table(set, columns, rows, width)];
}
