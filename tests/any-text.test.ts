// Whatever somebody writes as a text, and however YAML spells it, is told or stands on paper.
import path from 'node:path';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { checkFor, compileForPaper } from '../src/compile.js';
import { outputsOf } from '../src/emit/outputs.js';
import { openFaces } from '../src/emit/pdf/fonts.js';
import { Checker } from '../src/rules/checker.js';
import type { SyntaxNode } from '../src/syntax/node.js';
import { parse } from '../src/syntax/parse.js';
import { readFonts } from '../src/world/fonts.js';
import { demoTexts, libraryOf, projectFolder } from './helpers/shop.js';

const texts = demoTexts();
const faces = openFaces(readFonts(path.join(projectFolder, 'dist/fonts')));

/** Keys whose values are words for people. */
const words =
  /^(name|says|why|where|warning|caution|complaint|confirmed|customer|plate|unit|vin|what|document|section|edition|spec|bin|supplier|tell|outside|with|by|reason|address|title|number|fits|figure|technician|to|code)$/;

function* textsIn(node: SyntaxNode, key: string): Iterable<SyntaxNode> {
  if (node.kind === 'list') for (const item of node.items) yield* textsIn(item, key);
  else if (node.kind === 'map') for (const entry of node.entries) yield* textsIn(entry.value, entry.key);
  else if (words.test(key)) yield node;
}

const places = Object.entries(texts).flatMap(([file, text]) => {
  const { value } = file.startsWith('/shop/') ? parse({ path: file, text }) : {};
  return value ? Array.from(textsIn(value, ''), ({ span: { start, end } }) => ({ file, start, end })) : [];
});

/** What nobody expects there. */
const odd = fc.constantFrom(
  '\n\n a \n',
  '\t\t',
  'A\tB',
  'A\nB\tc \u00a0 d',
  'A\r\nB',
  '\n',
  '</script><b>&amp;"\'',
  "=cmd|'/C calc'!A0",
  '%s {{y}} \\ ../../x',
  'W'.repeat(190),
  'word '.repeat(39),
  'ÄÖÜ ß ł Ω Ελλ č ș',
  '\u0301\u0301a',
  '- x: y # z',
  '0',
  'null',
  'x\u200by',
  '\u2028',
  'x\u0000\u001b[31m',
  '\ud800',
  '日',
);

it('a text of any kind in any place of the demo is told, or printed on all paper', () => {
  let [printed, told] = [0, 0];
  fc.assert(
    fc.property(fc.array(fc.tuple(fc.nat(places.length - 1), odd), { minLength: 1, maxLength: 3 }), fc.nat(), (edits, which) => {
      const now: Record<string, string> = { ...texts };
      const inOrder = edits.map(([n, text]) => ({ place: places[n], text })).sort((a, b) => (b.place?.start ?? 0) - (a.place?.start ?? 0));
      const seen = new Set<unknown>();
      for (const { place, text } of inOrder) {
        if (!place || seen.has(place)) continue;
        seen.add(place);
        const was = now[place.file] ?? '';
        // JSON spells what cannot be seen, and YAML reads that.
        now[place.file] = `${was.slice(0, place.start)}${JSON.stringify(text)}${was.slice(place.end)}`;
      }
      const library = libraryOf(now);
      const jobs = [...library.jobs.values()].filter((_, n) => n % 6 === which % 6);
      const checkedFor = checkFor(library, jobs, new Checker());
      for (const job of jobs) {
        const { value, findings } = compileForPaper(library, job, checkedFor(job), { draft: which % 2 === 0, drawn: true });
        if (!value) {
          told++;
          expect(findings.some(({ severity }) => severity === 'error')).toBe(true);
          continue;
        }
        const outputs = outputsOf(value, faces, { format: 'both', workings: which % 3 === 0, after: null });
        printed++;
        expect(String(outputs.get('job.html')).replace(/<script[\s\S]*?<\/script>/g, '')).not.toMatch(/<b>&amp;|undefined|NaN|\[object/);
        expect(String(outputs.get('parts-list.csv'))).not.toMatch(/(^|,)=cmd/m);
      }
    }),
    { numRuns: Number(process.env.FUZZ ?? 60), ...(process.env.SEED && { seed: Number(process.env.SEED) }) },
  );
  expect([printed > 30, told > 2]).toEqual([true, true]);
}, 600_000);
