// What a job is compiled from is known: no change of anything else changes what stands on its paper.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { checkFor, compileForPaper } from '../src/compile.js';
import { Checker } from '../src/rules/checker.js';
import { demoTexts, libraryOf } from './helpers/shop.js';

const texts = demoTexts();
const names = Object.keys(texts);

/** Of each job of a library that nothing stops: the names and texts that it is compiled from, and what it is compiled to. */
function jobsOf(now: Readonly<Record<string, string>>): Map<string, { readonly from: string; readonly to: string }> {
  const library = libraryOf(now);
  const jobs = [...library.jobs.values()];
  const checkedFor = checkFor(library, jobs, new Checker());
  return new Map(
    jobs.flatMap((job) => {
      const checked = checkedFor(job);
      const { value } = compileForPaper(library, job, checked, { draft: false, drawn: true });
      const used = library.files.filter(({ file }) => checked.used.has(file.path)).map(({ file }) => [file.path, file.text]);
      const allowed = checked.allowed.map(({ finding, reason }) => [finding.rule, finding.message, reason]);
      return value ? [[job.id, { from: JSON.stringify([used, allowed]), to: value.digest }] as const] : [];
    }),
  );
}

const before = jobsOf(texts);

/** A document more, fewer, or another: with another id, a line less, two lines swapped, another number, or another name in the place of one. */
const change = fc.record({
  name: fc.constantFrom(...names),
  how: fc.constantFrom('more', 'fewer', 'id', 'line', 'line', 'swap', 'number', 'number', 'word', 'word' as const),
  at: fc.nat(),
  other: fc.nat(),
});

function changed({ name, how, at, other }: typeof change extends fc.Arbitrary<infer C> ? C : never): Record<string, string> {
  const text = texts[name] ?? '';
  const lines = text.split('\n');
  const line = at % lines.length;
  const withText = (now: string) => ({ ...texts, [name]: now });
  const nth = (pattern: RegExp, to: (was: string) => string): string => {
    const all = [...text.matchAll(pattern)];
    const { 0: was = '', index = 0 } = all[at % Math.max(1, all.length)] ?? {};
    return `${text.slice(0, index)}${to(was)}${text.slice(index + was.length)}`;
  };
  if (how === 'fewer') return Object.fromEntries(Object.entries(texts).filter(([one]) => one !== name));
  if (how === 'more') return { ...texts, [name.replace(/\/(\w+)\.yaml$/, '/$1-more.yaml')]: text.replace(/^id: (.*)$/m, 'id: $1-more') };
  if (how === 'id') return withText(text.replace(/^id: (.*)$/m, 'id: $1-other'));
  if (how === 'line') return withText(lines.filter((_, n) => n !== line).join('\n'));
  if (how === 'swap')
    return withText([...lines.slice(0, line), ...lines.slice(line, line + 2).reverse(), ...lines.slice(line + 2)].join('\n'));
  if (how === 'number') return withText(nth(/\d+/g, (was) => String(Number(was) + 1)));
  const words = [...(texts[names[other % names.length] ?? ''] ?? '').matchAll(/\b[a-z][a-z-]{3,}\b/g)].map(([word]) => word);
  return withText(nth(/\b[a-z][a-z-]{3,}\b/g, (was) => words[other % Math.max(1, words.length)] ?? was));
}

it('a job that is compiled from the same documents is compiled to the same', () => {
  let [same, others] = [0, 0];
  fc.assert(
    fc.property(change, (one) => {
      for (const [id, { from, to }] of jobsOf(changed(one))) {
        const was = before.get(id);
        if (was?.from !== from) others++;
        else {
          same++;
          expect(to, `${id} after ${JSON.stringify(one)}`).toBe(was.to);
        }
      }
    }),
    { numRuns: Number(process.env.FUZZ ?? 60), seed: Number(process.env.SEED ?? 7) },
  );
  expect(before.size).toBeGreaterThan(9);
  expect(same).toBeGreaterThan(others);
  expect(others).toBeGreaterThan(0);
}, 3_600_000);
