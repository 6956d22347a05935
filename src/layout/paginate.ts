import type { Block } from './blocks.js';
import type { Mark, Page, Part } from './page.js';
import { shift } from './page.js';
import { margins, papers, type PaperName, sizes } from './style.js';

interface Growing {
  readonly marks: Mark[];
  readonly parts: Part[];
  step: number | null;
}

export interface PageInfo {
  readonly number: number;
  readonly of: number;
  /** The last step that ends on or before this page. */
  readonly step: number | null;
}

/** Draws what stands on every page: head and foot. Coordinates of the whole page. */
export type Furniture = (info: PageInfo, width: number, height: number) => readonly Mark[];

export const contentWidth = (paper: PaperName): number => papers[paper].width - margins.left - margins.right;

/**
 * Sets blocks onto pages. A block is never split; blocks that keep with the next stay with it; a running heading is
 * repeated after a break.
 */
export function paginate(blocks: readonly Block[], paper: PaperName, furniture: Furniture): Page[] {
  const { width, height } = papers[paper];
  const space = height - margins.top - margins.bottom;
  const pages: Growing[] = [];
  let y = 0;
  let running: string | null = null;
  let step: number | null = null;
  let page: Growing | null = null;

  const open = (): Growing => {
    const fresh: Growing = { marks: [], parts: [], step };
    pages.push(fresh);
    y = 0;
    return fresh;
  };
  for (const group of groups(blocks)) {
    const total = group.reduce((sum, block) => sum + block.height, 0);
    const first = group[0];
    if (!page || (first?.newPage && y > 0) || (y > 0 && y + total > space)) {
      page = open();
      if (running !== null && first?.running === undefined) {
        page.marks.push({
          kind: 'text',
          x: margins.left,
          y: margins.top,
          size: sizes.small,
          weight: 'semibold',
          text: `${running} (continued)`,
        });
        y = sizes.small * 1.7;
      }
    }
    for (const block of group) {
      if (y > 0 && y + block.height > space + 0.01) page = open();
      // A row that begins a page stands under the head of its table again.
      if (block.head && (y === 0 || (page.parts.length === 0 && running !== null))) {
        page.marks.push(...shift(block.head.marks, margins.left, margins.top + y));
        y += block.head.height;
      }
      const from = page.marks.length;
      page.marks.push(...shift(block.marks, margins.left, margins.top + y));
      if (block.marks.length > 0) page.parts.push({ tag: block.tag ?? 'P', from, to: page.marks.length });
      y += block.height;
      if (block.running !== undefined) running = block.running;
      if (block.step !== undefined) {
        step = block.step;
        page.step = step;
      }
    }
  }
  if (pages.length === 0) open();

  return pages.map((one, index) => {
    const fixed = furniture({ number: index + 1, of: pages.length, step: one.step }, width, height);
    return {
      width,
      height,
      marks: [...fixed, ...one.marks],
      parts: one.parts.map((part) => ({ ...part, from: part.from + fixed.length, to: part.to + fixed.length })),
    };
  });
}

/** Runs of blocks that must stay together. */
function groups(blocks: readonly Block[]): Block[][] {
  const result: Block[][] = [];
  let current: Block[] = [];
  for (const block of blocks) {
    current.push(block);
    if (block.keepWithNext) continue;
    result.push(current);
    current = [];
  }
  if (current.length > 0) result.push(current);
  return result;
}
