import { distance } from 'fastest-levenshtein';
import { asItLooks, lookalikeIn } from '../lookalikes.js';
import { once } from '../once.js';

/** Names that are known, to be asked again and again what was meant: then not all of them are gone through each time. */
export class Names implements Iterable<string> {
  /** With the place of each in their order. */
  private readonly all = new Map<string, number>();
  private asked = 0;
  private compared = 0;
  private bySlip: ReadonlyMap<string, readonly string[]> | undefined;

  constructor(names: Iterable<string>) {
    for (const name of names) if (!this.all.has(name)) this.all.set(name, this.all.size);
  }

  get size(): number {
    return this.all.size;
  }

  has(name: string): boolean {
    return this.all.has(name);
  }

  [Symbol.iterator](): Iterator<string> {
    return this.all.keys();
  }

  /** All names, while comparing with each of them is affordable: where thousands are unknown, slips are not the reason. */
  affordable(): Iterable<string> {
    this.compared += this.all.size;
    return this.compared > mostCompared ? [] : this.all.keys();
  }

  /** Names among which are all that are at most one slip away; undefined where it is not worth it to find them out. */
  close(written: string): readonly string[] | undefined {
    if (this.all.size < 50 || ++this.asked < 20) return undefined;
    this.bySlip ??= this.slips();
    const found = new Set<string>();
    for (const slip of slipsOf(written)) for (const name of this.bySlip.get(slip) ?? []) found.add(name);
    // In the order in which they are known: of two that are as near the first is meant.
    return [...found].sort((a, b) => (this.all.get(a) ?? 0) - (this.all.get(b) ?? 0));
  }

  private slips(): Map<string, string[]> {
    const bySlip = new Map<string, string[]>();
    for (const name of this.all.keys()) for (const slip of slipsOf(name)) once(bySlip, slip, () => []).push(name);
    return bySlip;
  }
}

/** Names compared for slips of more than one letter. */
const mostCompared = 1_000_000;

/** Longer names are not slips of each other. */
const longest = 80;

/** A name, and what is left without one letter: two names that are one slip apart have one of these in common. */
function slipsOf(name: string): Set<string> {
  const lower = name.toLowerCase();
  if (lower.length > longest) return new Set([lower]);
  return new Set([lower, ...Array.from(lower, (_, at) => lower.slice(0, at) + lower.slice(at + 1))]);
}

/** How many slips lie between two names: a letter more, less or other, or two neighbours in the wrong order. */
const apart = (a: string, b: string): number => (a === b ? 0 : isSwapped(a, b) ? 1 : distance(a, b));

export interface Near {
  readonly name: string;
  readonly apart: number;
  /** No other name is as near. */
  readonly alone: boolean;
}

/** The name in `known` that is nearest to what was written, if it is not further than `most` slips. */
export function closest(written: string, known: Iterable<string>, most: number): Near | undefined {
  if (written.length > longest) return undefined;
  const wanted = asItLooks(written).toLowerCase();
  const among = (names: Iterable<string>, limit: number): Near | undefined => {
    let best: Near | undefined;
    for (const name of names) {
      const least = best?.apart ?? limit;
      if (Math.abs(name.length - wanted.length) > least) continue;
      const far = apart(wanted, name.toLowerCase());
      if (far > least) continue;
      if (!best || far < best.apart) best = { name, apart: far, alone: true };
      else if (best.alone) best = { ...best, alone: false };
    }
    return best;
  };
  if (!(known instanceof Names)) return among(known, most);
  const close = most > 0 ? known.close(wanted) : undefined;
  const best = close && among(close, 1);
  return best || (close && most === 1) ? best : among(known.affordable(), most);
}

/** The name in `known` that is nearest to what was written, if it is near enough to be a slip. */
export const nearest = (written: string, known: Iterable<string>): string | undefined =>
  closest(written, known, Math.max(1, Math.floor(written.length / 3)))?.name;

/**
 * Whether a word can only be a slip for the nearest of those known, and not another word: its letters are in the wrong
 * order, or other capitals or signs, or one is too much or too few in a long word. (`text` is no slip for `test`, nor
 * `block` for `lock`.)
 */
export function isTypo(written: string, known: Iterable<string>): boolean {
  const name = nearest(written, known) ?? '';
  const letters = asItLooks(written)
    .toLowerCase()
    .replace(/[^a-z]/g, '');
  const meant = name.replace(/[^a-z]/g, '');
  if (letters === meant || isSwapped(letters, meant)) return true;
  return letters.length !== meant.length && letters.length >= 6 && distance(letters, meant) === 1;
}

/** The one name of those known for which a word can only be a slip; null where there is none, or several are as near. */
export const slipOf = (written: string, known: readonly string[]): string | null => {
  const near = closest(written, known, Math.max(1, Math.floor(written.length / 3)));
  return near?.alone && isTypo(written, known) ? near.name : null;
};

/** Two neighbours in the wrong order are one slip. */
export function isSwapped(a: string, b: string): boolean {
  if (a.length !== b.length) return false;
  let at = 0;
  while (at < a.length && a[at] === b[at]) at++;
  return a[at] === b[at + 1] && a[at + 1] === b[at] && a.slice(at + 2) === b.slice(at + 2);
}

/** What was probably meant: the name that is nearest, else the few that say it more exactly (`bolts`: `bolts-left`, `bolts-right`). */
export function likely(written: string, known: Iterable<string>): readonly string[] {
  const near = nearest(written, known);
  if (near !== undefined) return [near];
  const word = written.toLowerCase();
  const names = word.length < 3 || word.length > longest ? [] : [...(known instanceof Names ? known.affordable() : known)];
  const found = names.filter((name) => name.startsWith(`${word}-`) || name.endsWith(`-${word}`));
  return found.length > mostLikely ? [] : found;
}
const mostLikely = 4;

/** “ Did you mean `x`?”, or where only its characters are others than they look, which; or nothing. */
export const didYouMean = (written: string, known: Iterable<string>): string => asked(written, nearest(written, known));

/** The same of the name of a thing, which may say less than the names that are known. */
export const didYouMeanThing = (written: string, known: Iterable<string>): string => asked(written, ...likely(written, known));

function asked(written: string, ...[found, ...others]: readonly (string | undefined)[]): string {
  if (found === undefined) return '';
  return written !== found && asItLooks(written) === found
    ? ` It looks like \`${found}\`, but ${lookalikeIn(written)} is another character. Write it anew.`
    : ` Did you mean ${oneOf([found, ...others].filter((one) => one !== undefined))}?`;
}

/** What was probably meant, and what there is; said once, where that is the same. */
export function didYouMeanOf(written: string, known: Iterable<string>): string {
  const all = [...known];
  const meant = didYouMean(written, known instanceof Names ? known : all);
  return meant !== '' && all.length === 1 ? meant : `${meant} ${thereAre(all)}`;
}

/** `a`, `b` or `c`; cut after twelve. */
export const oneOf = (names: Iterable<string>): string => listed(names, 'or');

/** “There are `a`, `b` and `c`.”, cut after so many; or that there is none. */
export function thereAre(names: Iterable<string>, most = 12): string {
  const all = [...names];
  if (all.length === 0) return 'There is none at all.';
  return all.length === 1 ? `There is only \`${all[0]}\`.` : `There are ${listed(all, 'and', most)}.`;
}

/** `a`, `b` and `c`; cut after so many. */
export function listed(names: Iterable<string>, word: 'and' | 'or', most = 12): string {
  const all: string[] = [];
  let count = 0;
  for (const name of names) if (++count <= most) all.push(`\`${name}\``);
  if (count > most) return `${all.join(', ')} … (${count})`;
  return count < 2 ? (all[0] ?? 'nothing') : `${all.slice(0, -1).join(', ')} ${word} ${all.at(-1)}`;
}
