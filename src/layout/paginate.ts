import { type Block, inOneLine } from './blocks.js';
import { element, type Page, type Piece, shift } from './page.js';
import { margins, papers, type PaperName, sizes } from './style.js';

interface Growing {
  readonly pieces: Piece[];
  step: number | null;
}

export interface PageInfo {
  readonly number: number;
  readonly of: number;
  /** The last step that ends on or before this page; null before the first, and where nothing is worked from any more. */
  readonly step: number | null;
}

/** Draws what stands on every page: head and foot. Coordinates of the whole page. */
export type Furniture = (info: PageInfo, width: number, height: number) => readonly Piece[];

export const contentWidth = (paper: PaperName): number => papers[paper].width - margins.left - margins.right;

/** Fewer steps than these do not stand alone on the last page of a section, where the page before can give some. */
const fewestSteps = 3;

/** A page that holds no more than this share of what fits is a rest, not a page of its own. */
const restShare = 0.4;

/** Height of the heading that is repeated at the top of a page. */
const continuedHeight = sizes.small * 1.7;

type Group = readonly Block[];

/** What a page of a section has for its blocks. */
interface Room {
  readonly space: number;
  readonly repeats: boolean;
}

/**
 * Sets blocks onto pages. A block is never split; blocks that keep with the next stay with it; a running heading and
 * the head of a table are repeated after a break; no section ends with a page of one or two steps, or begins a page
 * beside one that is nearly empty, if it can be helped.
 */
export function paginate(blocks: readonly Block[], paper: PaperName, furniture: Furniture, continued: (heading: string) => string): Page[] {
  const { width, height } = papers[paper];
  const space = height - margins.top - margins.bottom;
  const filled = allPages(sections(groups(blocks)), space);
  let running: string | null = null;
  let step: number | null = null;
  const pages = (filled.length > 0 ? filled : [[]]).map((content): Growing => {
    const page: Growing = { pieces: [], step };
    let y = 0;
    const put = (pieces: readonly Piece[]) => void page.pieces.push(...shift(pieces, margins.left, margins.top + y));
    // What is said again after a break is for the eye only.
    const again = (pieces: readonly Piece[]) => put([element('Artifact', pieces)]);
    const first = content[0]?.[0];
    if (running !== null && first && first.running === undefined) {
      again([{ kind: 'text', x: 0, y: 0, size: sizes.small, weight: 'semibold', text: inOneLine(continued(running)) }]);
      y += continuedHeight;
    }
    for (const [index, block] of content.flat().entries()) {
      if (index === 0 && block.head) {
        again(block.head.pieces);
        y += block.head.height;
      }
      put(block.pieces);
      y += block.height;
      if (block.running !== undefined) running = block.running;
      if (block.step === undefined) continue;
      step = block.step;
      // What ends the work ends it for the page that it begins, and for those after it.
      if (step !== null || index === 0) page.step = step;
    }
    return page;
  });
  return pages.map((one, index) => ({
    width,
    height,
    pieces: [...furniture({ number: index + 1, of: pages.length, step: one.step }, width, height), ...one.pieces],
  }));
}

/**
 * Every section on pages of its own, except that one goes on where the section before ran over onto a page that it
 * hardly uses.
 */
function allPages(all: readonly Group[][], space: number): Group[][] {
  const pages: Group[][] = [];
  let rest: Group[] = [];
  for (const section of all) {
    // Only a section with a running heading repeats one.
    const room: Room = { space, repeats: [...rest, ...section].flat().some((block) => typeof block.running === 'string') };
    const set = (run: readonly Group[]) => balance(fill(run, room), room);
    const alone = set(section);
    const joined = set([...rest, ...section]);
    // It goes on below the rest where that saves a page; a section of one page is never torn for it.
    const together = rest.length > 0 && joined.length <= alone.length;
    const own = together ? joined : alone;
    if (rest.length > 0 && !together) pages.push(rest);
    const last = own.at(-1) ?? [];
    const over = own.length > 1 && needed(last, room) <= space * restShare;
    rest = over ? last : [];
    pages.push(...(over ? own.slice(0, -1) : own));
  }
  return rest.length > 0 ? [...pages, rest] : pages;
}

const heightOf = (group: Group): number => group.reduce((sum, block) => sum + block.height, 0);
const stepsOn = (page: readonly Group[]): number => page.flat().filter((block) => typeof block.step === 'number').length;

/** What a page needs: its blocks, and what is repeated above them after a break. */
const needed = (page: readonly Group[], { repeats }: Room): number => {
  const first = page[0]?.[0];
  const repeated = (repeats && first && first.running === undefined ? continuedHeight : 0) + (first?.head?.height ?? 0);
  return page.reduce((sum, group) => sum + heightOf(group), repeated);
};

/** Runs of groups that begin on a page of their own. One or two steps make no page: they go on with those beside them. */
function sections(all: readonly Group[]): Group[][] {
  const runs: Group[][] = [];
  for (const group of all) {
    const last = runs.at(-1);
    if (last && !group[0]?.newPage) last.push(group);
    else runs.push([group]);
  }
  const few = (run: readonly Group[]) => stepsOn(run) > 0 && stepsOn(run) < fewestSteps;
  const result: Group[][] = [];
  for (const run of runs) {
    const last = result.at(-1);
    if (last && stepsOn(last) > 0 && stepsOn(run) > 0 && (few(last) || few(run))) last.push(...run);
    else result.push(run);
  }
  return result;
}

/** A gap, which shows nothing: it begins no page. */
const isGap = (group: Group): boolean => group.every((block) => block.pieces.length === 0);

/** Groups onto pages, as many as fit on each; a group that is higher than a page is parted between its blocks. */
function fill(section: readonly Group[], room: Room): Group[][] {
  const fits = (page: readonly Group[]) => needed(page, room) <= room.space + 0.01;
  const pages: Group[][] = [[]];
  for (const group of section.flatMap((one) => (one.length === 1 || fits([one]) ? [one] : one.map((block) => [block])))) {
    const page = pages.at(-1);
    if (page && (page.length === 0 || isGap(group) || fits([...page, group]))) page.push(group);
    else pages.push([group]);
  }
  return pages;
}

/** Gives the last page of a section steps of the page before, until it has a few. */
function balance(pages: Group[][], room: Room): Group[][] {
  const last = pages.at(-1);
  const before = pages.at(-2);
  if (!last || !before || stepsOn(last) === 0) return pages;
  while (stepsOn(last) < fewestSteps && stepsOn(before) > fewestSteps) {
    const moved = before.at(-1);
    if (!moved || needed([moved, ...last], room) > room.space) break;
    before.pop();
    last.unshift(moved);
  }
  return pages;
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
