import type { Finding } from '../findings/finding.js';
import { entryOf, type MapEntry, MapNode, type SyntaxNode } from '../syntax/node.js';
import { documentSchema, isDocumentKind, resolve } from './lookup.js';

/** Entries of a section that say what those of another do, as after something was pasted between, or a heading was lost. */
interface Misplaced {
  readonly from: Written;
  readonly to: Section;
  readonly entries: readonly MapEntry[];
}

/**
 * Tells once of entries that stand under the wrong heading, and reads them as if they stood under theirs.
 * @returns the tree as it was meant
 */
export function inTheirSections(root: SyntaxNode): { readonly root: SyntaxNode; readonly findings: readonly Finding[] } {
  const misplaced = misplacedIn(root);
  if (root.kind !== 'map' || misplaced.length === 0) return { root, findings: [] };
  const gone = new Set(misplaced.flatMap(({ entries }) => entries));
  const entries = root.entries.map((section) => {
    if (section.value.kind !== 'map') return section;
    const more = misplaced.flatMap(({ to, entries }) => (to.at === section ? entries : []));
    const stay = section.value.entries.filter((entry) => !gone.has(entry));
    return more.length === 0 && stay.length === section.value.entries.length
      ? section
      : section.as(section.key, withEntries(section.value, [...stay, ...more]));
  });
  // What has no heading is found where it stands.
  const added = misplaced.flatMap(({ from, to, entries }) => (to.at ? [] : [from.at.as(to.name, withEntries(from.table, entries))]));
  return { root: withEntries(root, [...entries, ...added]), findings: misplaced.map(told) };
}

const withEntries = ({ number, file, start, end, aliased }: MapNode, entries: readonly MapEntry[]): MapNode =>
  new MapNode(entries, number, file, start, end, aliased);

function told({ from, to, entries: [first, ...others] }: Misplaced): Finding {
  const many = others.length > 0;
  const these = `\`${first?.key}\`${many ? ` and ${others.length === 1 ? `\`${others[0]?.key}\`` : `${others.length} more`}` : ''}`;
  const [stand, them] = many ? ['stand', 'them'] : ['stands', 'it'];
  return {
    rule: 'schema/unknown-key',
    severity: 'error',
    span: (first ?? from.at).keySpan,
    message: `${these} ${stand} under \`${from.name}:\`, and what is said of ${them} is said of what stands under \`${to.name}:\`. ${
      to.at ? `Move ${them} there.` : `Write \`${to.name}:\` above ${them}.`
    }`,
    related: to.at ? [{ span: to.at.keySpan, message: `\`${to.name}:\` begins here` }] : [],
  };
}

interface Section {
  readonly name: string;
  /** What may be said of its entries. */
  readonly keys: ReadonlySet<string>;
  readonly at?: MapEntry;
  readonly table?: MapNode;
}

type Written = Required<Section>;

const isWritten = (section: Section): section is Written => section.table !== undefined;

/** The sections of a document whose entries have names of their own, also those that are not written. */
function sectionsIn(root: SyntaxNode): readonly Section[] {
  const kind = entryOf(root, 'kind')?.value;
  if (kind?.kind !== 'scalar' || !isDocumentKind(kind.value)) return [];
  return Object.entries(documentSchema(kind.value).properties ?? {}).flatMap(([name, schema]): readonly Section[] => {
    const each = resolve(schema).additionalProperties;
    const keys = new Set(typeof each === 'object' ? Object.keys(resolve(each).properties ?? {}) : []);
    const at = entryOf(root, name);
    if (keys.size === 0) return [];
    return at === undefined ? [{ name, keys }] : at.value.kind === 'map' ? [{ name, keys, at, table: at.value }] : [];
  });
}

function misplacedIn(root: SyntaxNode): readonly Misplaced[] {
  const sections = sectionsIn(root);
  return sections.filter(isWritten).flatMap((from) => sections.flatMap((to) => (to === from ? [] : between(from, to, sections))));
}

/** The entries of one section that belong into another: one mistake, also where one of them could stand in either. */
function between(from: Written, to: Section, sections: readonly Section[]): readonly Misplaced[] {
  const { entries } = from.table;
  const sum = entries.reduce((all, entry) => all + strangeness(entry, from, to, sections), 0);
  // A single key that is wrong is told as that.
  if (sum < 2) return [];
  const belongs = ({ value }: MapEntry): boolean => isSaidIn(to, value) && !isSaidIn(from, value);
  const range = entries.slice(entries.findIndex(belongs), entries.findLastIndex(belongs) + 1);
  const moved = range.filter(({ key, value }) => isSaidIn(to, value) && !to.table?.entry(key));
  return moved.length === 0 ? [] : [{ from, to, entries: moved }];
}

/** How many keys of an entry only the other section has; none where it may belong elsewhere too, or nowhere. */
function strangeness({ value }: MapEntry, from: Section, to: Section, sections: readonly Section[]): number {
  if (value.kind !== 'map' || !isSaidIn(to, value)) return 0;
  if (sections.some((other) => other !== to && isSaidIn(other, value))) return 0;
  return value.entries.filter(({ key }) => !from.keys.has(key)).length;
}

const isSaidIn = ({ keys }: Section, value: SyntaxNode): boolean => value.kind === 'map' && value.entries.every(({ key }) => keys.has(key));
