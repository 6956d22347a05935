// Settings of other tools lie in the same repository: they stop no paper, and nobody need move them.
import { expect, it } from 'vitest';
import { checkFor, checkLibrary, compileForPaper } from '../src/compile.js';
import { Checker } from '../src/rules/checker.js';
import { placeOf } from '../src/source/source.js';
import { demoTexts, libraryOf } from './helpers/shop.js';

const texts = demoTexts();
const withFile = (text: string) => libraryOf({ ...texts, '/shop/other.yml': text });

/** What is found in it. */
const told = (text: string): string[] =>
  checkLibrary(withFile(text)).flatMap(({ severity, rule, span }) =>
    span.file.path === 'other.yml' ? [`${severity} ${placeOf(span.file, span.start).line} ${rule}`] : [],
  );

/** Whether a job of the demo is printed with it. */
function isPrinted(text: string): boolean {
  const library = withFile(text);
  const job = library.jobs.get('2042-hub-bearing');
  if (!job) throw new Error('no job');
  return compileForPaper(library, job, checkFor(library, [job], new Checker())(job), { draft: false, drawn: true }).value !== null;
}

it.each([
  ['containers', 'services:\n  web: { image: web }\nvolumes: {}\n'],
  ['a site', 'site_name: Our shop\nnav: [index.md]\ntheme: { name: plain }\n'],
  ['an interface', 'openapi: 3.1.0\ninfo: { title: Orders, version: "1" }\npaths: {}\n'],
  ['an action', 'name: check\ndescription: checks\nruns: { using: composite }\n'],
  ['a deployment', 'apiVersion: v1\nkind: Deployment\nmetadata: { name: shop }\nspec: {}\n'],
  ['a stack, with tags of its own', 'Resources:\n  Bucket: !Ref name\n'],
  ['a list of packages', 'lockfileVersion: "9.0"\nimporters: {}\npackages: {}\n'],
])('a file that has nothing of a document is a note, and stops no paper: %s', (_, text) => {
  expect(told(text)).toEqual([expect.stringMatching(/^info \d schema\/no-kind$/)]);
  expect(isPrinted(text)).toBe(true);
});

it.each([
  ['keys of documents', 'trigger: [main]\nsteps:\n  - script: test\n'],
  ['a kind of its own', 'kind: pipeline\ntype: exec\nstages: []\n'],
  ['a slip', 'itmes: { pump: { name: pump } }\n'],
  ['a slip in the kind', 'kind: proceedure\nid: one\n'],
  ['nothing but an id', 'id: one\n'],
])('one that may be a document is an error, and stops paper: %s', (_, text) => {
  expect(told(text)).toEqual(['error 1 schema/no-kind']);
  expect(isPrinted(text)).toBe(false);
});

const marks = [
  '# baywright: not a document\n',
  '# pipeline of the shop\n#baywright: not a document\n\n',
  '\r\n%YAML 1.1\r\n# baywright: not a document\r\n---\r\n',
];

it.each(marks)('one that says that it is none is not looked at, whatever YAML it is: %j', (mark) => {
  for (const text of ['steps:\n  - script: !Ref test\n', 'a: {{ b }}\n', '---\na: 1\n---\nb: [\n', '']) {
    expect(told(`${mark}${text}`)).toEqual([]);
    expect(isPrinted(`${mark}${text}`)).toBe(true);
  }
});

it('that is said above all else, and by a remark', () => {
  const pump = 'kind: parts\nid: more\nfor: marn-20\nitems: { pump: { nmae: pump } }\noffers: []\n';
  for (const text of [`${pump}# baywright: not a document\n`, `says: "# baywright: not a document"\n${pump}`, pump])
    expect(told(text).some((one) => one.startsWith('error '))).toBe(true);
});
