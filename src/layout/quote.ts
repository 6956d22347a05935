import type { CompiledJob } from '../schema/generated/compiled-job.js';
import {
  type Block,
  blank,
  blankWidthOf,
  flow,
  framed,
  heading,
  paragraph,
  plainStyle,
  smallStyle,
  space,
  stack,
  strongStyle,
  table,
} from './blocks.js';
import { jobFurniture } from './furniture.js';
import type { Measure, Paper } from './page.js';
import { contentWidth, paginate } from './paginate.js';
import { rule, sizes } from './style.js';

/** The quote, in the customer's words: no internal cost, no torque. */
export function quotePaper(job: CompiledJob, measure: Measure): Paper {
  const width = contentWidth(job.shop.paper);
  const { quote, shop, order } = job;
  const money = moneyFormat(job);
  const blocks: Block[] = [
    paragraph(measure, shop.name, width, { size: sizes.title, weight: 'bold' }),
    paragraph(measure, shop.address.join(', '), width, smallStyle),
    space(8),
    paragraph(
      measure,
      [
        order.customer ? `For ${order.customer}` : null,
        `Date ${dateFormat(job, job.date)}`,
        quote.validUntil ? `valid until ${dateFormat(job, quote.validUntil)}` : null,
      ]
        .filter((part) => part !== null)
        .join(' · '),
      width,
      strongStyle,
    ),
    paragraph(measure, [job.vehicle.name, job.vehicle.plate, job.vehicle.odometer].filter((part) => part !== null).join(' · '), width),
  ];
  if (order.complaint) blocks.push(paragraph(measure, `You told us: ${order.complaint}`, width));
  if (order.confirmed) blocks.push(paragraph(measure, `We found: ${order.confirmed}`, width));
  blocks.push(
    space(6),
    heading(measure, 'What we will do', width),
    ...job.work.map((one) => paragraph(measure, `• ${one.what}${one.why ? ` ${one.why}` : ''}`, width)),
  );
  blocks.push(space(6), heading(measure, 'Price', width));
  blocks.push(
    ...table(
      measure,
      [
        { title: '', share: 6 },
        { title: shop.currency, share: 2, right: true },
      ],
      quote.lines.map((line) => [line.label, money(line.amount)]),
      width,
    ),
  );
  const total = (label: string, amount: string, strong: boolean): Block => totalRow(measure, label, amount, width, strong);
  blocks.push(
    total('Net', money(quote.net), false),
    ...quote.taxes.map((tax) => total(`Tax ${tax.rate} % on ${money(tax.base)}`, money(tax.amount), false)),
    total(`Total ${shop.currency}`, money(quote.gross), true),
  );
  if (Number(quote.saved.hours) > 0)
    blocks.push(
      paragraph(measure, `Done together, the work shares its way in: ${quote.saved.hours} h less than one by one.`, width, strongStyle),
    );
  if (Number(quote.deposits) > 0)
    blocks.push(paragraph(measure, `Deposits on old parts, given back when they come back: ${money(quote.deposits)}`, width));
  if (quote.found.length > 0) {
    const rows = quote.found.map((one) =>
      paragraph(
        measure,
        `If ${one.what.join(' and ')}: total ${shop.currency} ${money(one.gross)}${one.call ? '. We call you before going on.' : '.'}`,
        width - 16,
      ),
    );
    const limit = quote.limit
      ? [paragraph(measure, `Up to a total of ${shop.currency} ${money(quote.limit)} we go on without a call.`, width - 16, smallStyle)]
      : [];
    blocks.push(
      space(6),
      framed(stack([paragraph(measure, 'This may change', width - 16, strongStyle), ...rows, ...limit], 3), width, 8, rule.thin),
    );
  }
  if (quote.alternatives.length > 0) {
    const rows = [
      ['as above', `${job.labour.billed} h`, money(quote.gross), ''],
      ...quote.alternatives.map((one) => [
        one.says,
        `${one.hours} h`,
        money(one.gross),
        `${Number(one.difference) > 0 ? '+' : ''}${money(one.difference)}`,
      ]),
    ];
    const columns = [
      { title: 'Other ways', share: 5 },
      { title: 'work', share: 1.4, right: true },
      { title: `total ${shop.currency}`, share: 2, right: true },
      { title: 'difference', share: 2, right: true },
    ];
    blocks.push(space(6), ...table(measure, columns, rows, width));
  }
  if (order.notWanted.length > 0)
    blocks.push(space(4), paragraph(measure, `Not wanted by you, and not included: ${order.notWanted.join('; ')}.`, width));
  blocks.push(
    space(6),
    paragraph(
      measure,
      `Any other work needs a new yes from you. What an estimate must say and how far it binds is a matter of local law.${shop.warranty ? ` ${shop.warranty}` : ''}`,
      width,
      smallStyle,
    ),
    space(8),
  );
  blocks.push(
    flow(
      ['name', 'date', 'signature'].map((label, index) => ({
        width: blankWidthOf(measure, label, '', index === 2 ? 170 : 90),
        block: blank(measure, label, '', index === 2 ? 170 : 90),
      })),
      width,
    ),
  );
  return {
    title: `Quote, job ${job.number}`,
    subject: job.work.map((one) => one.what).join(' '),
    language: shop.locale,
    pages: paginate(blocks, shop.paper, jobFurniture(job, measure, 'QUOTE', { ledger: false, internal: false })),
  };
}

function totalRow(measure: Measure, label: string, amount: string, width: number, strong: boolean): Block {
  const style = strong ? { size: sizes.heading, weight: 'bold' as const } : plainStyle;
  const y = 2;
  const height = style.size * 1.5;
  return {
    height,
    marks: [
      { kind: 'text', x: 4, y, size: style.size, weight: style.weight, text: label },
      {
        kind: 'text',
        x: width - 4 - measure.width(amount, style.size, style.weight),
        y,
        size: style.size,
        weight: style.weight,
        text: amount,
      },
      ...(strong ? [{ kind: 'line' as const, x: 0, y: 0, toX: width, toY: 0, width: 1.2 }] : []),
    ],
  };
}

/** Amounts by locale, with the digits that the compiled job carries: no number is rounded here again. */
function moneyFormat(job: CompiledJob): (amount: string) => string {
  return (amount) => {
    const digits = amount.split('.')[1]?.length ?? 0;
    return new Intl.NumberFormat(job.shop.locale, { minimumFractionDigits: digits, maximumFractionDigits: digits }).format(Number(amount));
  };
}

const dateFormat = (job: CompiledJob, date: string): string =>
  new Intl.DateTimeFormat(job.shop.locale, { dateStyle: 'long', timeZone: 'UTC' }).format(new Date(`${date}T00:00:00Z`));
