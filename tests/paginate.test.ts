// How blocks become pages: sections on pages of their own, rests shared, what belongs together not parted.
import { describe, expect, it } from 'vitest';
import { type Block, section } from '../src/layout/blocks.js';
import { tickRows } from '../src/layout/rows.js';
import { contentWidth, type Furniture, paginate } from '../src/layout/paginate.js';
import type { Page, Piece } from '../src/layout/page.js';
import { margins, papers } from '../src/layout/style.js';
import { measure } from './helpers/paper.js';

const room = papers.A4.height - margins.top - margins.bottom;
/** A block that takes a share of the page and says its name. */
const block = (name: string, share: number, more: Partial<Block> = {}): Block => ({
  height: room * share,
  pieces: [{ kind: 'text', x: 0, y: 0, size: 9, weight: 'regular', text: name }],
  ...more,
});
const textsOf = (pieces: readonly Piece[]): string[] =>
  pieces.flatMap((piece) => (piece.kind === 'element' ? textsOf(piece.children) : piece.kind === 'text' ? [piece.text] : []));
const set = (blocks: readonly Block[]) =>
  paginate(
    blocks,
    'A4',
    () => [],
    (heading) => `${heading}, continued`,
  ).map((page: Page) => textsOf(page.pieces));
const many = (name: string, count: number, share: number, more: Partial<Block> = {}) =>
  Array.from({ length: count }, (_, index) => block(`${name}${index + 1}`, share, index === 0 ? more : {}));
const begins = { newPage: true } as const;

describe('pages', () => {
  it('have room between their margins', () => {
    expect(contentWidth('A4')).toBeCloseTo(papers.A4.width - margins.left - margins.right, 6);
  });

  it('begin with each section that asks for it', () => {
    expect(set([block('first', 0.5), block('work', 0.3, begins), block('close', 0.2, begins)])).toEqual([['first'], ['work'], ['close']]);
  });

  it('go on below what ran over onto a page that it hardly uses', () => {
    expect(set([...many('a', 6, 0.2), ...many('b', 5, 0.2, begins)])).toEqual([
      ['a1', 'a2', 'a3', 'a4', 'a5'],
      ['a6'],
      ['b1', 'b2', 'b3', 'b4', 'b5'],
    ]);
    expect(set([...many('a', 6, 0.2), ...many('b', 4, 0.2, begins)])).toEqual([
      ['a1', 'a2', 'a3', 'a4', 'a5'],
      ['a6', 'b1', 'b2', 'b3', 'b4'],
    ]);
    expect(set([...many('a', 6, 0.2), ...many('b', 9, 0.2, begins)])).toEqual([
      ['a1', 'a2', 'a3', 'a4', 'a5'],
      ['a6', 'b1', 'b2', 'b3', 'b4'],
      ['b5', 'b6', 'b7', 'b8', 'b9'],
    ]);
  });

  it('do not go on below a page that is well used, or where no page is saved', () => {
    expect(set([...many('a', 8, 0.2), ...many('b', 2, 0.2, begins)])).toEqual([
      ['a1', 'a2', 'a3', 'a4', 'a5'],
      ['a6', 'a7', 'a8'],
      ['b1', 'b2'],
    ]);
    expect(set([...many('a', 6, 0.2), ...many('b', 10, 0.2, begins)])).toEqual([
      ['a1', 'a2', 'a3', 'a4', 'a5'],
      ['a6'],
      ['b1', 'b2', 'b3', 'b4', 'b5'],
      ['b6', 'b7', 'b8', 'b9', 'b10'],
    ]);
  });

  it('keep a caution with its step', () => {
    const step = [block('caution', 0.1, { keepWithNext: true }), block('step', 0.2, { step: 1 })];
    expect(set([block('before', 0.8), ...step])).toEqual([['before'], ['caution', 'step']]);
  });

  it('know the last step that ends on or before them, until nothing is worked from any more', () => {
    const stepsAt = (blocks: readonly Block[]) => {
      const steps: (number | null)[] = [];
      const furniture: Furniture = ({ step }) => {
        steps.push(step);
        return [];
      };
      paginate(blocks, 'A4', furniture, (heading) => heading);
      return steps;
    };
    const step = (n: number, share: number) => block(`${n}`, share, { step: n });
    const over = (share: number, more: Partial<Block> = {}) => block('workings', share, { step: null, ...more });
    const work = [block('first', 0.9), step(1, 0.5), step(2, 0.5), block('closing', 0.9)];
    expect(stepsAt(work)).toEqual([null, 2, 2]);
    expect(stepsAt([...work, over(0.2, begins), block('more', 0.9)])).toEqual([null, 2, 2, null, null]);
    // Where it begins below what is worked from, that page is still one to sign.
    expect(stepsAt([step(1, 0.5), over(0.2), block('more', 0.9)])).toEqual([1, null]);
  });

  it('are not begun by a gap, which shows nothing', () => {
    const gap: Block = { height: room * 0.1, pieces: [] };
    expect(set([...many('a', 5, 0.2), gap])).toEqual([['a1', 'a2', 'a3', 'a4', 'a5']]);
    expect(set([...many('a', 5, 0.2), gap, ...many('b', 5, 0.2)])).toEqual([
      ['a1', 'a2', 'a3', 'a4', 'a5'],
      ['b1', 'b2', 'b3', 'b4', 'b5'],
    ]);
  });

  it('say no more that a section goes on when it is over', () => {
    const over: Block = { height: room * 0.1, pieces: [], running: null };
    expect(set([block('Tools', 0.1, { running: 'Tools' }), ...many('a', 5, 0.17), over, block('note', 0.1)])).toEqual([
      ['Tools', 'a1', 'a2', 'a3', 'a4', 'a5'],
      ['note'],
    ]);
  });

  it('say again which section goes on', () => {
    expect(set([block('The work', 0.1, { running: 'The work' }), block('one', 0.8), block('two', 0.8)])).toEqual([
      ['The work', 'one'],
      ['The work, continued', 'two'],
    ]);
  });

  it('say again over what list of boxes they go on, and end none with a row alone', () => {
    const items = (count: number) => Array.from({ length: count }, (_, n) => ({ key: `new/${n + 1}`, text: `item ${n + 1}` }));
    const rows = (count: number) => tickRows(measure, items(count), 300, 1);
    const [row] = rows(1);
    const [title] = section(measure, 'New', 300, [], 4);
    const before = block('before', (room - (title?.height ?? 0) - 4.5 * (row?.height ?? 0)) / room, { running: null });
    const pages = (count: number) => set([before, ...section(measure, 'New', 300, rows(count), 4)]);
    expect(pages(4)).toEqual([['before', 'New', 'item 1', 'item 2', 'item 3', 'item 4']]);
    expect(pages(5)).toEqual([
      ['before', 'New', 'item 1', 'item 2', 'item 3'],
      ['New, continued', 'item 4', 'item 5'],
    ]);
  });
});
