import { describe, expect, it } from 'vitest';
import { Few, once } from '../src/once.js';

describe('a memory that stays small', () => {
  const asked = (few: Few<string, number>, key: string, made: string[]) =>
    once(few, key, () => {
      made.push(key);
      return made.length;
    });

  it('knows what was asked for last', () => {
    const few = new Few<string, number>(4);
    const made: string[] = [];
    for (const key of ['a', 'b', 'b', 'a']) asked(few, key, made);
    expect(made).toEqual(['a', 'b']);
  });

  it('keeps what is asked for again and again, however much comes and goes', () => {
    const few = new Few<string, number>(4);
    const made: string[] = [];
    for (let n = 0; n < 100; n++) for (const key of ['hot', `n${n}`]) asked(few, key, made);
    expect(made.filter((key) => key === 'hot')).toHaveLength(1);
  });

  it('forgets what nobody asked for since as many others as it may hold', () => {
    const few = new Few<string, number>(4);
    const made: string[] = [];
    for (const key of ['a', 'b', 'c', 'd', 'e', 'f', 'a']) asked(few, key, made);
    expect(made.filter((key) => key === 'a')).toHaveLength(2);
  });
});
