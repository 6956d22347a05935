// Files that people and machines get wrong: every one ends in findings, never in a crash. `FUZZ=20000 npx vitest run tests/fuzz.test.ts` runs longer.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { checkLibrary } from '../src/compile.js';
import { compileJob } from '../src/job/compile-job.js';
import { demoTexts, libraryOf } from './helpers/shop.js';

const numRuns = Number(process.env.FUZZ ?? 150);
const texts = demoTexts();
const files = Object.keys(texts);

/** Values of a wrong kind, wrong size or with a meaning of their own elsewhere. */
const odd = [
  'zzz',
  '-1e9',
  '1e400',
  '.nan',
  '.inf',
  '{}',
  '[]',
  '[x, [y]]',
  '{ a: { b: [1] } }',
  'null',
  '~',
  'true',
  '""',
  '0',
  '-0',
  '12E4',
  '1:30',
  '2026-11-25',
  '__proto__',
  'constructor',
  '{ __proto__: 1 }',
  '../../x',
  '"\\u0000"',
  '"ﬀ🜁"',
  '&a x',
  '*a',
  '!!js x',
  '|',
  '99999999999999999999',
  '0 N·m',
  '-5 N·m',
  '5..1 mm',
  'max',
  '0 L',
  '0 %',
  '200 %',
  '1e300 L',
  'M0x0',
  '$x',
  '@',
  '- - -',
];

const mutation = fc.record({
  file: fc.constantFrom(...files),
  line: fc.nat(400),
  how: fc.constantFrom('delete', 'double', 'value', 'key', 'indent', 'swap', 'bytes' as const),
  value: fc.oneof(fc.constantFrom(...odd), fc.string({ maxLength: 12 })),
});

function mutated(text: string, { line, how, value }: { line: number; how: string; value: string }): string {
  const lines = text.split('\n');
  const at = line % lines.length;
  const old = lines[at] ?? '';
  if (how === 'delete') lines.splice(at, 1);
  else if (how === 'double') lines.splice(at, 0, old);
  else if (how === 'value') lines[at] = old.replace(/: .*$/, () => `: ${value}`);
  else if (how === 'key') lines[at] = old.replace(/[\w-]+:/, () => `${value}:`);
  else if (how === 'indent') lines[at] = `  ${old}`;
  else if (how === 'swap') lines.splice(at, 2, lines[at + 1] ?? '', old);
  else lines[at] = old.slice(0, old.length >> 1) + value + old.slice(old.length >> 1);
  return lines.join('\n');
}

it(`${numRuns} times one to three mistakes in the demo shop: findings, each with a place and words`, () => {
  fc.assert(
    fc.property(fc.array(mutation, { minLength: 1, maxLength: 3 }), (mutations) => {
      const changed = { ...texts };
      for (const one of mutations) changed[one.file] = mutated(changed[one.file] ?? '', one);
      const library = libraryOf(changed);
      for (const finding of checkLibrary(library)) {
        expect(finding.message.length).toBeGreaterThan(10);
        expect(finding.message).not.toMatch(/\b(undefined|\[object)\b/);
        expect(finding.span.start).toBeLessThanOrEqual(finding.span.end);
        expect(finding.span.end).toBeLessThanOrEqual(finding.span.file.text.length);
      }
      for (const job of library.jobs.values()) expect(() => compileJob(library, job)).not.toThrow();
    }),
    { numRuns, seed: Number(process.env.SEED ?? 1961) },
  );
}, 600_000);
