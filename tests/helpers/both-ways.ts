import { expect } from 'vitest';
import { decode, decodeRight } from '../../src/schema/decode.js';
import { isAliased, isDamaged, isPlaced, setOrigin, spanOf } from '../../src/schema/origin.js';
import { kindOfRight, validate } from '../../src/schema/validate.js';
import { eventsOf } from '../../src/syntax/events.js';
import { parse } from '../../src/syntax/parse.js';
import { valueIn } from '../../src/syntax/values.js';

/** Lists and objects that stand in a file, from the outside in. */
function* placedIn(value: unknown): Iterable<object> {
  if (!isPlaced(value)) return;
  yield value;
  for (const one of Object.values(value)) yield* placedIn(one);
}

/**
 * A document that is read straight from its events is the same, and stands at the same places, as the one that is made of
 * nodes; and of it there is nothing to tell.
 * @returns whether it can be read so
 */
export function isReadBothWays(text: string): boolean {
  const file = { path: 'x.yaml', text };
  const events = eventsOf(file);
  if (!events.value || events.findings.length > 0) return false;
  const value = valueIn(file, events.value, setOrigin);
  const kind = kindOfRight(value);
  const right = kind && decodeRight(value, kind);
  if (!right) return false;
  const syntax = parse(file, events);
  if (!syntax.value) throw new Error('it has a value, and no nodes');
  const checked = validate(syntax.value);
  const decoded = decode(syntax.value, kind, checked.wrong);
  expect([...syntax.findings, ...checked.findings, ...decoded.findings]).toEqual([]);
  expect(right).toEqual(decoded.document);
  const [mine, other] = [right, decoded.document].map((one) => [...placedIn(one)]);
  expect(mine?.map((one) => spanOf(one))).toEqual(other?.map((one) => spanOf(one)));
  expect(other?.filter((one) => isAliased(one) || isDamaged(one))).toEqual([]);
  return true;
}
