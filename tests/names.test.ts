// Two letters of a name in the wrong order, at each place of a document where a name can stand: somebody is told. Names that
// are only said to people are free.
import { expect, it } from 'vitest';
import { isPair, parseDocument, visit } from 'yaml';
import { checkLibrary } from '../src/compile.js';
import { demoTexts, libraryOf } from './helpers/shop.js';

/** What is said to people under these keys is nobody's name. */
const free = new Set(
  'name says why what source complaint danger warning caution notice customer note plate unit number qualification codes takes'.split(' '),
);

/** Names that nothing else asks for, or that may be any word. */
const unasked = new Set([
  'procedure labour',
  'preparation labour',
  'parts items',
  'parts id',
  'procedure steps clean',
  'procedure steps id',
  'procedure might-find',
  'procedure close-up lubricate',
  'procedure close-up test',
  'procedure final road test',
  'procedure final road inspect',
  'procedure final ground inspect',
  'procedure final running reset',
  'vehicle measurements',
  'vehicle measurements with',
  'vehicle waits',
  // Of two parts with a circuit that no fluid has, nobody knows which has the slip.
  'vehicle parts circuit',
  'shop id',
  'shop tools',
  'job alternatives',
]);

interface Place {
  readonly at: number;
  readonly name: string;
  /** The kind of the document and the keys on the way, without those that are names themselves. */
  readonly where: string;
}

const named = new Set(['parts', 'temporaries', 'fasteners', 'fluids', 'charges', 'measurements', 'choices', 'features', 'tools', 'items']);

function placesOf(text: string): Place[] {
  const document = parseDocument(text);
  const found: Place[] = [];
  visit(document, {
    Scalar(key, node, path) {
      if (typeof node.value !== 'string' || !node.range) return;
      const keys = path.flatMap((one) => (isPair(one) ? [String((one.key as { value?: unknown }).value)] : []));
      const way = key === 'key' ? keys.slice(0, -1) : keys;
      if (way.some((one) => free.has(one)) || !/^[a-z][a-z0-9-]{3,}( [a-z-]+)?$/.test(node.value)) return;
      const kept = way.filter((_, n) => !named.has(way[n - 1] ?? ''));
      found.push({ at: node.range[0], name: node.value, where: [document.get('kind'), ...kept].join(' ') });
    },
  });
  return found;
}

/** The two letters in the middle of its first word, in the other order. */
function swapped(name: string): string {
  const at = Math.floor((name.split(' ')[0]?.length ?? 0) / 2);
  return `${name.slice(0, at - 1)}${name[at]}${name[at - 1]}${name.slice(at + 1)}`;
}

const sample = process.env.EVERY === '1' ? Number.POSITIVE_INFINITY : 1;

it('a slip in a name is told wherever one is asked for', { timeout: 600_000 }, () => {
  const texts = demoTexts();
  const told = (all: Readonly<Record<string, string>>) =>
    new Set(checkLibrary(libraryOf(all)).map(({ rule, span, message }) => `${rule} ${span.file.path} ${message}`));
  const usual = told(texts);
  const seen = new Map<string, number>();
  const silent = new Set<string>();
  for (const [file, text] of Object.entries(texts)) {
    if (!file.startsWith('/shop/')) continue;
    for (const { at, name, where } of placesOf(text)) {
      const times = seen.get(where) ?? 0;
      const slip = swapped(name);
      if (times >= sample || slip === name) continue;
      seen.set(where, times + 1);
      const from = text.indexOf(name, at);
      const now = told({ ...texts, [file]: text.slice(0, from) + slip + text.slice(from + name.length) });
      if ([...now].every((one) => usual.has(one))) silent.add(where);
    }
  }
  expect(seen.size).toBeGreaterThan(150);
  expect([...silent].filter((where) => !unasked.has(where))).toEqual([]);
});
