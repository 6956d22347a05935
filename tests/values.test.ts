// Documents in which nothing is wrong or unusual are read straight from the events of YAML; all others by way of nodes.
// Nobody must see a difference.
import { describe, expect, it } from 'vitest';
import { eventsOf } from '../src/syntax/events.js';
import { plain } from '../src/syntax/node.js';
import { parse } from '../src/syntax/parse.js';
import { valueIn } from '../src/syntax/values.js';
import { isReadBothWays } from './helpers/both-ways.js';
import { demoTexts } from './helpers/shop.js';

it('every document of the demo and of the tool is read so, with the same content at the same places', () => {
  const texts = Object.entries(demoTexts());
  expect(texts.length).toBeGreaterThan(70);
  for (const [name, text] of texts) expect(isReadBothWays(text), name).toBe(true);
});

const valueOfText = (text: string): unknown => {
  const file = { path: 'x.yaml', text };
  return valueIn(file, eventsOf(file).value ?? [], () => {});
};

describe('the plain value', () => {
  it.each([
    ['a: 1\nb: [x, { c: null }]\n'],
    ['- 74.50\n- 0.000001\n- -0.5\n- 0\n- 12345678\n- -3\n'],
    ["a: \"1e3\"\nb: 'it’''s'\n"],
    ['a: |\n  two\n  lines\nb: >-\n  joined\n  line\nc: a text\n  goes on\n'],
    ['1: a\n"2": b\ntrue: c\n~: d\n"": e\n'],
    ['__proto__: 1\nconstructor: 2\n'],
    ['a:\nb: ~\nc: "yes"\nd: True\n'],
    ['{ a: 1, b: [2, 3,], }'],
    ['just a text'],
  ])('%j is what its nodes say', (text) => {
    const { value, findings } = parse({ path: 'x.yaml', text });
    expect(findings).toEqual([]);
    const straight = valueOfText(text);
    expect(straight).not.toBeNull();
    expect(JSON.stringify(straight)).toBe(JSON.stringify(value && plain(value)));
  });

  it.each([
    ['an anchor', 'a: &x 1\n'],
    ['a word that is true or false to others', 'a: yes\n'],
    ['a text in printer’s quotes', 'a: “tight”\n'],
    ['a text beyond its limit', `a: ${'x'.repeat(5001)}\n`],
    ['an alias', 'a: &x 1\nb: *x\n'],
    ['a tag', 'a: !!str 1\n'],
    ['a key with a tag', '!!str a: 1\n'],
    ['a key that stands twice', 'a: 1\na: 2\n'],
    ['keys that look the same', '{ 1: a, "1": b }'],
    ['nothing before a colon', 'a: 1\n: x\n'],
    ['a list as a key', '? [a, b]\n: x\n'],
    ['a key beyond its limit', `${'k'.repeat(1025)}: 1\n`],
    ['nesting beyond its limit', `${'['.repeat(42)}${']'.repeat(42)}`],
    ['a number with an exponent', 'a: 1e3\n'],
    ['a number with zeros before it', 'a: 00412\n'],
    ['a number with a sign', 'a: +3\n'],
    ['less than nothing', 'a: -0\n'],
    ['less than nothing, exactly', 'a: -0.0\n'],
    ['a number that begins with its point', 'a: .5\n'],
    ['a number that ends with its point', 'a: 5.\n'],
    ['another base', 'a: 0x1F\n'],
    ['more digits than a number keeps', 'a: 12345678901234567890\n'],
    ['more places than money has', 'a: 1.2500000\n'],
    ['infinity', 'a: .inf\n'],
  ])('%s is left to the nodes', (_, text) => {
    expect(valueOfText(text)).toBeNull();
  });
});

describe('a document of which there is something to tell is left to the nodes', () => {
  const part = (rest: string) =>
    `kind: parts\nid: p\nname: P\nitems:\n  a: { name: a }\noffers:\n  - { number: "1", contains: { a: 1 }, ${rest} }\n`;
  it.each([
    ['nothing', part('price: 74.50'), true],
    ['an amount of money in quotes', part('price: "74.50"'), true],
    ['an amount with seven places', part('price: 74.5000000'), false],
    ['an amount below zero', part('price: -3'), false],
    ['an amount in words', part('price: many'), false],
    ['a unit that nobody knows', part('price: 1').replace('a: 1 }', 'a: 1 zz }'), false],
    ['a text that is true to others', part('price: 1, bin: on'), false],
    ['a text in printer’s quotes', part('price: 1, bin: “K4”'), false],
    ['a text that begins with another letter', part('price: 1, bin: Ä4'), true],
    ['a text beyond its limit', part(`price: 1, bin: ${'x'.repeat(5001)}`), false],
    ['a key that nobody knows', part('price: 1, bni: K4'), false],
    ['a kind that nobody knows', 'kind: part\nid: p\n', false],
    ['no kind', 'id: p\n', false],
    ['no document', '- kind: parts\n', false],
  ])('%s', (_, text, straight) => {
    expect(isReadBothWays(text)).toBe(straight);
  });
});
