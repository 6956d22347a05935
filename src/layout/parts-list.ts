import { once } from '../once.js';
import type { CompiledJob, Purchase } from '../schema/generated/compiled-job.js';
import { beside } from './amounts.js';
import { type Block, paragraph, section, smallStyle, space, strongStyle } from './blocks.js';
import { table, tickBlock } from './rows.js';
import type { Measure, Paper } from './page.js';
import { contentWidth } from './paginate.js';
import { paperOf } from './paper.js';
import { type Setting, settingOf } from './setting.js';

/** The parts list for the counter: by bin, with what a kit contains, what to hold, and what is left over. */
export function partsList(job: CompiledJob, measure: Measure): Paper {
  const width = contentWidth(job.shop.paper);
  const set = settingOf(job, measure);
  const { parts: words } = set.words;
  const { parts } = job;
  const amount = (money: string) => `${job.shop.currency} ${set.money(money)}`;
  const blocks: Block[] = [];
  const put = (title: string, content: readonly Block[]) => void blocks.push(...section(set, title, width, content, 6));
  const bought = (title: string, offers: readonly Purchase[], total: string) =>
    put(title, [...purchaseTable(set, offers, width), ...suppliedBy(set, offers, width), paragraph(set, total, width, strongStyle)]);
  if (parts.buy.length > 0) bought(words.parts, parts.buy, words.total(amount(parts.total)));
  else blocks.push(paragraph(set, words.none, width), space(6));
  const held = parts.buy.filter((one) => one.hold.length > 0);
  if (held.length > 0) {
    const choices = job.choices.map((choice) => `${choice.code} (${choice.name})`).join(', ');
    // Of several that one choice expects, all are held beside the same.
    const numbers = new Map<string, string[]>();
    for (const { number, hold } of held) once(numbers, set.words.list(hold), () => []).push(number);
    const says = Array.from(numbers, ([others, those]) =>
      paragraph(set, words.holdWords(set.words.list(those), those.length > 1, others, choices), width),
    );
    put(words.hold, says);
  }
  if (parts.fluids.length > 0) bought(words.fluids, parts.fluids, words.fluidTotal(amount(parts.fluidTotal)));
  if (parts.perhaps.length > 0) {
    const titles = [
      { title: words.columns.item, share: 4 },
      { title: words.columns.pieces, share: 1, right: true },
      { title: words.columns.if, share: 5 },
    ];
    const rows = parts.perhaps.map((one) => [one.name, howMuch(set, one), one.if]);
    put(words.perhaps, table(set, titles, rows, width, smallStyle));
  }
  const left = [...parts.leftovers, ...parts.fluidLeftovers];
  if (left.length > 0) {
    const lines = left.map(({ amount, inShopUnit, name }) =>
      paragraph(set, `${inShopUnit ? beside(set, inShopUnit, amount) : set.figure(amount)} ${name}`, width),
    );
    put(words.left, lines);
  }
  const columns = [
    { title: words.columns.item, share: 4 },
    { title: words.columns.pieces, share: 1, right: true },
    { title: words.columns.for, share: 5 },
  ];
  const demand = parts.demand.map((one) => [one.name, String(one.count), one.for.join(', ')]);
  if (demand.length > 0) put(words.whatFor, table(set, columns, demand, width, smallStyle));
  return paperOf(job, set, 'parts-list', blocks);
}

/** Who supplies all of them; where there are several, each says it. */
const suppliersOf = (purchases: readonly Purchase[]): readonly (string | null)[] => [...new Set(purchases.map(({ supplier }) => supplier))];

function suppliedBy(set: Setting, purchases: readonly Purchase[], width: number): Block[] {
  const [only, ...others] = suppliersOf(purchases);
  return only && others.length === 0 ? [paragraph(set, set.words.parts.allFrom(only), width)] : [];
}

function purchaseTable(set: Setting, purchases: readonly Purchase[], width: number): Block[] {
  const { columns } = set.words.parts;
  const areSeveral = suppliersOf(purchases).length > 1;
  const describe = (one: Purchase): string => {
    const contents = one.contains.map(({ name, amount }) => `${set.figure(amount)} ${name}`).join(', ');
    const [first, ...others] = one.contains;
    // What is called as the one thing in it says how much of that it holds.
    const packed = others.length === 0 && first?.name === one.name && first.amount !== '1';
    const says = packed
      ? `${set.figure(first.amount)}${/^\d+$/.test(first.amount) ? ' ×' : ''} ${one.name}`
      : `${one.name}${others.length > 0 ? `: ${contents}` : ''}`;
    const { deposit, from } = set.words.parts;
    return [says, areSeveral && one.supplier && from(one.supplier), one.core && deposit(set.money(one.core))].filter(Boolean).join(' ');
  };
  return table(
    set,
    [
      { title: columns.bin, share: 0.9 },
      { title: columns.number, share: 2.1 },
      // Where amounts stand there in two units.
      { title: columns.pieces, share: purchases.some((one) => one.inShopUnit) ? 1.9 : 1.1, right: true },
      { title: columns.what, share: 5 },
      { title: columns.amount, share: 1.4, right: true },
      { title: columns.ordered, share: 1.5 },
      { title: columns.here, share: 1 },
      { title: columns.bench, share: 1.1 },
      { title: columns.back, share: 1 },
    ],
    purchases.map((one) => {
      const boxed = (where: 'ordered' | 'here' | 'bench' | 'back') =>
        tickBlock(`part/${one.number}/${where}`, `${one.number} ${columns[where]}`, 4);
      const boxes = [boxed('ordered'), boxed('here'), boxed('bench'), boxed('back')];
      return [
        one.bin ?? '',
        one.number,
        one.drawn === null ? String(one.count) : one.inShopUnit ? beside(set, one.inShopUnit, one.drawn) : set.figure(one.drawn),
        describe(one),
        set.money(one.amount),
        ...boxes,
      ];
    }),
    width,
    smallStyle,
  );
}

/** `3`, `2 L`, or `3 × 0.5 L`. */
const howMuch = ({ figure }: Setting, { count, amount }: CompiledJob['parts']['perhaps'][number]): string =>
  amount === null ? String(count) : `${count > 1 ? `${count} × ` : ''}${figure(amount)}`;
