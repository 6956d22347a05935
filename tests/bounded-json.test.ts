// JSON that somebody names at the prompt: read as the engine reads it, or refused before it fills the memory.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { boundedJson } from '../src/cli/bounded-json.js';

const parsed = (text: string): unknown => {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
};

it('any JSON, and what is nearly JSON, is read as the engine reads it', () => {
  const json = fc.json({ stringUnit: 'binary' });
  const cut = fc.tuple(json, fc.nat(60), fc.constantFrom('"', '\\', '[', ']', '{', ',', ' ')).map(([text, at, put]) => {
    const place = at % (text.length + 1);
    return text.slice(0, place) + put + text.slice(place + (at % 2));
  });
  fc.assert(
    fc.property(fc.oneof(json, cut), (text) => {
      expect(boundedJson(text)).toEqual(parsed(text));
    }),
    { numRuns: Number(process.env.FUZZ ?? 3000), seed: Number(process.env.SEED ?? 5) },
  );
});

it.each(['"\\""', '["\\\\", "\\\\\\"[", "]"]', '"[[[[{{{{,,,,"', '"\\\\"', '{"a\\"b": "c\\\\"}'])(
  'quotes and slashes within texts: %s',
  (text) => {
    expect(boundedJson(text)).toEqual(JSON.parse(text));
  },
);

it.each([
  ['deeper than anything of the tool', '['.repeat(65) + ']'.repeat(65)],
  ['so deep that to read it would fill the memory', '['.repeat(50_000_000)],
  ['deep in groups', '{"a":'.repeat(10_000_000)],
  ['of so many groups', `[${'{},'.repeat(6_000_000)}{}]`],
  ['of so many values', `[${'1,'.repeat(51_000_000)}1]`],
  ['a text that does not end', `"${'\\'.repeat(20_000_000)}`],
])('%s: refused', (_, text) => {
  expect(boundedJson(text)).toBeUndefined();
});

it('what lies below is read', () => {
  expect(boundedJson('['.repeat(64) + ']'.repeat(64))).toEqual(JSON.parse('['.repeat(64) + ']'.repeat(64)));
  expect(boundedJson(`[${'{},'.repeat(100_000)}{}]`)).toHaveLength(100_001);
});
