import { parseQuantity } from '../quantity/quantity.js';

/** Names, and what else was written where only names belong. */
export interface MoreThanNames {
  readonly names: readonly string[];
  /** What stands behind the only one; empty where there are several. */
  readonly behind: string;
}

const between = /\s*(?:[,;&+]|\b(?:and|und)\b)+\s*/;

/**
 * `alternator to 45 Nm`, `bolts-a, bolts-b`, `valve cover with gasket`: the names that are in a text.
 * @returns null where there are none
 */
export function moreThanNames(text: string, isName: (name: string) => boolean): MoreThanNames | null {
  const several = text.split(between).map(asName);
  if (several.length > 1 && several.every(isName)) return { names: several, behind: '' };
  const words = text.split(/\s+/);
  for (let count = Math.min(words.length - 1, mostWords); count > 0; count--) {
    const name = asName(words.slice(0, count).join(' '));
    const behind = words.slice(count).join(' ');
    if (isName(name)) return isRemark(behind) ? { names: [name], behind } : null;
  }
  return null;
}

/** What stands behind a name and belongs to none: `valve cover gasket` is another thing than `valve-cover`. */
const isRemark = (behind: string): boolean => isFigure(behind) || remark.test(behind) || isMore(behind);
const remark =
  /^(?:[(\d–—-]|(?:in|into|to|with|from|out|off|on|onto|at|by|per|until|for|using|before|after|through|aus|mit|auf|bis|an|ab|von|vom|zum|zur|durch|vor|nach|über|unter)\b|\w+ly\b)/i;

/** Whether something else is meant as well, that nobody knows. */
export const isMore = (behind: string): boolean => /^(?:[,;&+]|(?:and|und)\b)/.test(behind);

/** No name has more words. */
const mostWords = 12;

const asName = (words: string): string =>
  words
    .trim()
    .toLowerCase()
    .replace(/[.:,;]$/, '')
    .replace(/\s+/g, '-');

/** Whether it is a figure, with or without a word before it. */
export const isFigure = (text: string): boolean => parseQuantity(text.replace(/^(?:to|with|at)\s+/, ''), 'any').ok;
