import { expect, it } from 'vitest';
import { parse } from 'yaml';
import { demoTexts } from './helpers/shop.js';
import right = require('../src/schema/generated/right.cjs');
import validators = require('../src/schema/generated/validators.cjs');

// Two forms of each validator are made from the same schemas: a short one that only says whether all is right, and the
// one that says what is wrong. They must agree, of every document and of every way to spoil one.

type Value = null | string | number | boolean | readonly Value[] | { readonly [key: string]: Value };

const documents = Object.values(demoTexts()).map((text) => parse(text) as { readonly [key: string]: Value });

const others: readonly Value[] = [
  null,
  true,
  7,
  -0.5,
  '',
  'x',
  'X y',
  'a'.repeat(5000),
  [],
  ['x'],
  ['x', 'x'],
  [7],
  {},
  { x: 'x' },
  { x: 7 },
];

/** What becomes of a value where one thing in it is another, is gone, or has something beside it. */
function* spoilt(value: Value, place: string, seen: Set<string>): Generator<Value> {
  if (seen.has(place)) return;
  seen.add(place);
  yield* others;
  if (Array.isArray(value)) {
    yield [...value, ...value];
    for (const [n, one] of value.entries())
      for (const other of spoilt(one, `${place}/${Object.keys(Object(one)).join()}`, seen)) yield value.with(n, other);
  } else if (typeof value === 'object' && value !== null) {
    for (const unknown of ['nobody-knows', '__proto__', 'constructor', '<<', 'Kind', ' id']) yield { ...value, ...own(unknown) };
    for (const [key, one] of Object.entries(value)) {
      const { [key]: _, ...rest } = value as Record<string, Value>;
      yield rest;
      for (const other of spoilt(one, `${place}/${key}`, seen)) yield { ...value, [key]: other };
    }
  }
}

const own = (key: string): object => Object.defineProperty({}, key, { value: 'x', enumerable: true, configurable: true, writable: true });

it('what is told to be right is what has no mistakes', () => {
  const seen = new Set<string>();
  const told = { right: 0, wrong: 0 };
  for (const document of documents) {
    const kind = String(document.kind);
    const ask = (value: unknown): boolean => {
      const answer = right[kind]?.(value);
      expect(answer, JSON.stringify(value)).toBe(validators[kind]?.(value));
      return answer === true;
    };
    expect(ask(document)).toBe(true);
    for (const value of spoilt(document, kind, seen)) told[ask(value) ? 'right' : 'wrong']++;
  }
  expect(told.right).toBeGreaterThan(1000);
  expect(told.wrong).toBeGreaterThan(5000);
});
