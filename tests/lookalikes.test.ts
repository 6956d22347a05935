// Characters that look like signs of YAML, like letters of a name, or like nothing at all.
import { describe, expect, it } from 'vitest';
import type { Finding } from '../src/findings/finding.js';
import { applyFixes } from '../src/findings/fixes.js';
import { readDocument } from '../src/library/document.js';
import { asItLooks } from '../src/lookalikes.js';
import { placeOf } from '../src/source/source.js';
import { demoTexts, demoWith, found } from './helpers/shop.js';

const read = (text: string): readonly Finding[] => readDocument({ path: 'x.yaml', text }, false).findings;
const mended = (findings: readonly Finding[]): string | undefined => applyFixes(findings).files[0]?.text;

/** Ways in which a line of a document comes to have another sign than was meant. */
const ways: readonly (readonly [what: string, change: (line: string) => string])[] = [
  ['a no-break space before it', (line) => line.replace(/^ /, '\u00a0')],
  ['wide spaces before it', (line) => line.replace(/^ +/, (all) => '\u3000'.repeat(all.length))],
  ['a long dash before it', (line) => line.replace(/^( *)- /, '$1– ')],
  ['a no-break space behind its dash', (line) => line.replace(/^( *-) /, '$1\u00a0')],
  ['a wide colon behind its key', (line) => line.replace(/^( *(?:- )?[\w-]+): /, '$1：')],
  ['a no-break space behind its key', (line) => line.replace(/^( *(?:- )?[\w-]+:) /, '$1\u00a0')],
  ['printer’s quotes', (line) => line.replace(/: "([^"]*)"$/, ': “$1”')],
];

describe.each(ways)('a line with %s', (_, change) => {
  it('is told at that line, and mended to what was meant', () => {
    let told = 0;
    // A text over several lines may go on in one that looks like a key.
    for (const text of Object.values(demoTexts()).filter((one) => !/[|>]$/m.test(one))) {
      const all = text.split('\n');
      for (const [n, line] of all.entries()) {
        const other = change(line);
        if (other === line || line.trimStart().startsWith('#')) continue;
        const findings = read(all.with(n, other).join('\n'));
        // A preparation with what it is needed for is then a name like others, which nobody knows: the rules tell that.
        if (findings.length === 0 && /^ {2}- (wheels-off|front-axle-raised): \[/.test(line)) continue;
        told++;
        expect([line, findings.map(({ rule, span }) => [rule, placeOf(span.file, span.start).line])]).toEqual([
          line,
          [['yaml/lookalike', n + 1]],
        ]);
        expect(mended(findings)).toBe(text);
      }
    }
    expect(told).toBeGreaterThan(50);
  });
});

it('such characters within a text are part of it, whatever else is wrong', () => {
  const text =
    'kind: preparation\nid: one\nname: “One” – the first\nsteps:\n  - inspect: leaks\n    says: |\n      – bolts: all in\n      \u00a0- none: wet\n';
  expect(read(text)).toEqual([]);
  expect(read(text.replace('name', 'nane')).map(({ rule }) => rule)).toEqual(['schema/unknown-key']);
  expect(read(text.replace('steps:', 'steps: [')).map(({ rule }) => rule)).toEqual(['yaml/syntax']);
});

it('they are told before what else is wrong in a file that cannot be read for them', () => {
  const text = 'kind: preparation\nid: one\nname: One\nnane: x\nnome: y\nsteps:\n  - inspect: leaks\n\u00a0  says: dry\n';
  expect(read(text).map(({ rule }) => rule)).toEqual(['yaml/lookalike']);
});

it('a text in printer’s quotes is told, as they are printed with it', () => {
  const text = 'kind: preparation\nid: one\nname: “One”\nsteps:\n  - inspect: leaks\n';
  const findings = read(text);
  expect(findings.map(({ rule, severity }) => [rule, severity])).toEqual([['yaml/lookalike', 'warning']]);
  expect(mended(findings)).toBe(text.replace(/[“”]/g, '"'));
});

describe('a character that cannot be seen', () => {
  const text = 'kind: preparation\nid: one\nname: One\nsteps:\n  - inspect: leaks\n';
  const at = text.indexOf('leaks') + 2;
  const withOne = (code: number) => text.slice(0, at) + String.fromCharCode(code) + text.slice(at);

  it.each([0xad, 0x61c, 0x200b, 0x200e, 0x200f, 0x202a, 0x202e, 0x2060, 0x2066, 0x2069, 0xfeff])(
    'is told at its place, and taken out: %i',
    (code) => {
      const findings = read(withOne(code));
      expect(findings.map(({ rule, span }) => [rule, span.start, span.end])).toEqual([['yaml/control-character', at, at + 1]]);
      expect(mended(findings)).toBe(text);
    },
  );

  it('is taken out everywhere at once', () => {
    expect(mended(read(Array.from(text).join('\u00ad').replaceAll('a', 'a\u200b')))).toBe(text);
  });

  it.each([0x1, 0x7, 0xb, 0x85, 0x9f, 0x2028, 0x2029])('is told at its place; what it stood for only a person knows: %i', (code) => {
    const findings = read(withOne(code));
    expect(findings.map(({ rule, span }) => [rule, span.start])).toEqual([['yaml/control-character', at]]);
    expect(mended(findings)).toBe(undefined);
  });
});

describe('a name of other letters than it seems', () => {
  it('is told with the letter that is another', () => {
    const procedure = '/shop/procedures/clutch.yaml';
    const [vehicle] = found(demoWith([procedure, 'for: marn-20', 'for: m\u0430rn-20']));
    expect(vehicle?.message).toBe(
      'There is no vehicle profile `m\u0430rn-20`. It looks like `marn-20`, but “\u0430” (U+0430) is another character. Write it anew.',
    );
    const [verb] = found(demoWith([procedure, '- drain:', '- dr\u0430\u0456n:']));
    expect(verb?.message).toBe(
      '`dr\u0430\u0456n` is not a key of a step. It looks like `drain`, but “\u0430” (U+0430) is another character. Write it anew.',
    );
  });

  // Source: the compatibility mappings and decimal digits of the Unicode Character Database, as the engine has them.
  it('wide letters and the digits of any script look like plain ones', () => {
    for (let n = 0x21; n < 0x7f; n++) expect(asItLooks(String.fromCharCode(n + 0xfee0))).toBe(String.fromCharCode(n));
    for (const nought of [0x660, 0x6f0, 0x966, 0xe50, 0xff10])
      for (let n = 0; n < 10; n++) expect(asItLooks(String.fromCodePoint(nought + n))).toBe(String(n));
  });
});
