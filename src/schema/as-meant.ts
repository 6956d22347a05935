import type { Finding } from '../findings/finding.js';
import { type SyntaxNode, withKeys } from '../syntax/node.js';
import { type Checked, validate } from './validate.js';

/** Slips inside what a slip hides are found one level deeper each time. */
const deepest = 8;

/**
 * Checks one document against the schema of its kind. A key that can only be a slip is told once, and what stands under it is
 * read as what was meant: nothing follows from the slip, and what is wrong under it is told too.
 * @returns also the tree with the keys that were meant; what holds them counts as wrong
 */
export function validateAsMeant(written: SyntaxNode): Omit<Checked, 'slips'> & { readonly root: SyntaxNode } {
  const told: Finding[] = [];
  const holders = new Set<number>();
  let root = written;
  let checked = validate(root);
  for (let n = 0; n < deepest && checked.slips.length > 0; n++) {
    for (const { holder, finding } of checked.slips) {
      holders.add(holder.number);
      told.push(finding);
    }
    root = withKeys(root, new Map(checked.slips.map(({ entry, meant }) => [entry, meant])));
    checked = validate(root);
  }
  const { kind, findings, wrong } = checked;
  return { root, kind, findings: [...told, ...findings], wrong: new Set([...wrong, ...mapsIn(root, holders)]) };
}

/** The maps of these numbers. */
function mapsIn(node: SyntaxNode, numbers: ReadonlySet<number>): readonly SyntaxNode[] {
  if (node.kind === 'scalar' || numbers.size === 0) return [];
  if (node.kind === 'list') return node.items.flatMap((item) => mapsIn(item, numbers));
  const inside = node.entries.flatMap(({ value }) => mapsIn(value, numbers));
  return numbers.has(node.number) ? [node, ...inside] : inside;
}
