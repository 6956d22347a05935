import type { Finding } from '../findings/finding.js';
import { type SyntaxNode, withOthers } from '../syntax/node.js';
import { inTheirSections } from './misplaced.js';
import { type Checked, validate } from './validate.js';

/** Slips inside what a slip hides are found one level deeper each time. */
const deepest = 8;

/**
 * Checks one document against the schema of its kind. A key, or a value of which there are a few, that can only be a slip is told
 * once and read as what was meant: nothing follows from the slip, and what is wrong under it is told too.
 * @returns also the tree with what was meant; what holds a slip counts as wrong
 */
export function validateAsMeant(written: SyntaxNode): Omit<Checked, 'slips'> & { readonly root: SyntaxNode } {
  const meant = inTheirSections(written);
  const told: Finding[] = [...meant.findings];
  const holders = new Set<number>();
  let { root } = meant;
  let checked = validate(root);
  for (let n = 0; n < deepest && checked.slips.length > 0; n++) {
    for (const { holder, finding } of checked.slips) {
      holders.add(holder.number);
      told.push(finding);
    }
    root = withOthers(root, new Map(checked.slips.map(({ at, meant }) => [at, meant])));
    checked = validate(root);
  }
  const { kind, findings, wrong } = checked;
  return { root, kind, findings: [...told, ...findings], wrong: new Set([...wrong, ...groupsIn(root, holders)]) };
}

/** The lists and maps of these numbers. */
function groupsIn(node: SyntaxNode, numbers: ReadonlySet<number>): readonly SyntaxNode[] {
  if (node.kind === 'scalar' || numbers.size === 0) return [];
  const inside = (node.kind === 'list' ? node.items : node.entries.map(({ value }) => value)).flatMap((one) => groupsIn(one, numbers));
  return numbers.has(node.number) ? [node, ...inside] : inside;
}
