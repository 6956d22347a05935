// Files and command lines that people and machines get wrong: every one ends in findings or output, never in a crash, a
// hang or a stack trace. CI samples; `npm run fuzz` makes a million inputs.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import fc from 'fast-check';
import { afterAll, expect, it } from 'vitest';
import { checkAll, checkLibrary } from '../src/compile.js';
import { definitionAt, hoverAt, suggestionsAt } from '../src/editor/language.js';
import { type Faces, openFaces } from '../src/emit/pdf/fonts.js';
import type { Finding } from '../src/findings/finding.js';
import { compileJob } from '../src/job/compile-job.js';
import { leftOpenIn, outputsOf, papersOf } from '../src/emit/outputs.js';
import { baySheet } from '../src/layout/bay-sheet.js';
import type { Piece } from '../src/layout/page.js';
import type { ScalarNode, SyntaxNode } from '../src/syntax/node.js';
import { parse } from '../src/syntax/parse.js';
import { readDocument } from '../src/library/document.js';
import { readFonts } from '../src/world/fonts.js';
import { isReadBothWays } from './helpers/both-ways.js';
import { compiled, demoTexts, libraryOf, projectFolder, textsOf } from './helpers/shop.js';
import { valves } from './helpers/valves.js';

/** How many inputs of a kind: a share of what `FUZZ` asks for in all, or a sample. */
const runs = (share: number, sample: number): number => (process.env.FUZZ ? Math.ceil(Number(process.env.FUZZ) * share) : sample);
const seed = Number(process.env.SEED ?? 1961);
const texts = demoTexts();
const files = Object.keys(texts);
const small: Record<string, string> = {
  ...textsOf(path.join(projectFolder, 'tests/fixtures/corner-garage'), '/shop'),
  ...textsOf(path.join(projectFolder, 'procedures'), '/shipped'),
};

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
  '\u00a0x',
  '\u3000– x：“y”',
  '“x',
  'm\u0430\u0456n٢',
  'a\u200bb\u202e',
];

const mutationOf = (names: readonly string[]) =>
  fc.record({
    file: fc.constantFrom(...names),
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

/** A hang, and not a timing: the slowest machine is done a hundred times before. */
const hang = 20_000;

function sane(findings: readonly Finding[]): void {
  for (const finding of findings) {
    expect(finding.message.length).toBeGreaterThan(10);
    expect(finding.message).not.toMatch(/\b(undefined|\[object)\b/);
    expect(finding.span.start).toBeLessThanOrEqual(finding.span.end);
    expect(finding.span.end).toBeLessThanOrEqual(finding.span.file.text.length);
  }
}

/** Reads one document: a value or findings, and soon. */
function read(text: string): void {
  const started = performance.now();
  const { document, findings } = readDocument({ path: 'x.yaml', text }, false);
  expect(document !== null || findings.length > 0).toBe(true);
  sane(findings);
  expect(performance.now() - started).toBeLessThan(hang);
  if (findings.length === 0) isReadBothWays(text);
}

const scraps = [
  ...odd,
  'kind: job',
  'kind: procedure',
  'steps:',
  '- fit: x',
  '  ',
  '\n',
  '\n  ',
  ': ',
  '- ',
  '#',
  '---',
  '...',
  '%',
  '"',
  "'",
  '>-',
  '&a',
  '*a',
  '<<: *a',
  '\t',
  '\r\n',
  '\u2028',
  '\ud800',
  '\ufeff',
  '[',
  ']',
  '{',
  '}',
  ',',
  '!',
  '!!binary',
  '? ',
  '0x',
  '0o9',
];

it('scraps of YAML and of anything else', () => {
  const text = fc.oneof(
    fc.array(fc.constantFrom(...scraps), { maxLength: 30 }).map((list) => list.join('')),
    fc.string({ unit: 'binary', maxLength: 200 }),
    fc.json({ maxDepth: 5 }),
  );
  fc.assert(fc.property(text, read), { numRuns: runs(0.6, 4000), seed });
}, 3_600_000);

it('documents of every kind with one to three mistakes', () => {
  const all = { ...texts, ...small };
  const mutation = fc.array(mutationOf(['x']), { minLength: 1, maxLength: 3 });
  fc.assert(
    fc.property(fc.constantFrom(...Object.keys(all)), mutation, (file, mutations) => {
      read(mutations.reduce((text, one) => mutated(text, one), all[file] ?? ''));
    }),
    { numRuns: runs(0.38, 2000), seed },
  );
}, 3_600_000);

/** Checks a shop and sets its jobs onto all their pages, as drafts: findings in words, papers with pages, and soon. */
function isPrinted(shop: Readonly<Record<string, string>>, faces: Faces): void {
  const started = performance.now();
  const library = libraryOf(shop);
  const { findings } = checkAll(library);
  sane(findings);
  for (const job of library.jobs.values()) {
    const compiled = compileJob(library, job, { draft: true, open: findings });
    if (!compiled) continue;
    // What was found quotes what was written; all else is computed.
    const { allowed: _found, ...figures } = compiled;
    expect(/.{60}(?:\bNaN\b|Infinity|undefined).{20}/.exec(JSON.stringify(figures))?.[0]).toBeUndefined();
    const papers = [...papersOf(compiled, faces.measure, { format: 'pdf', after: 1, workings: true })];
    expect(papers.every(({ paper }) => paper.pages.length > 0)).toBe(true);
  }
  expect(performance.now() - started).toBeLessThan(hang);
}

it('a small shop with one to three mistakes: checked, compiled, and set onto pages as a draft', () => {
  const faces = openFaces(readFonts(path.join(projectFolder, 'dist/fonts')));
  fc.assert(
    fc.property(fc.array(mutationOf(Object.keys(small)), { minLength: 1, maxLength: 3 }), (mutations) => {
      const changed = { ...small };
      for (const one of mutations) changed[one.file] = mutated(changed[one.file] ?? '', one);
      isPrinted(changed, faces);
    }),
    { numRuns: runs(0.02, 100), seed },
  );
}, 3_600_000);

/** Numbers that are read, at the edges of what is. */
const extremes = ['0', '0.000001', '0.3333333333', '1', '1.005', '99', '100.0001', '200', '4095', '65536', '123456789'];
const days = ['1900-01-01', '2199-12-31', '2000-02-29', '2026-02-30', '0001-01-01', '9999-12-31'];
const words = ['x', 'W'.repeat(500), 'word '.repeat(400), 'ä'.repeat(90), 'a\\nb', '- a', '\u00ad', ' ', '<b>&amp;', '\u0645'];

/** The scalars of a text, each with its place. */
function scalarsOf(file: string, text: string): ScalarNode[] {
  const found: ScalarNode[] = [];
  const go = (node: SyntaxNode): void => {
    if (node.kind === 'scalar') found.push(node);
    else if (node.kind === 'list') node.items.forEach(go);
    else for (const { value } of node.entries) go(value);
  };
  const { value } = parse({ path: file, text });
  if (value) go(value);
  return found;
}

/** Another value of the same form: a day for a day, a number with the same unit, a name for a name, a text for a text. */
function otherValue({ source }: ScalarNode, n: number, names: readonly string[]): string {
  const of = (all: readonly string[]): string => all[n % all.length] ?? '';
  if (/^\d{4}-\d\d-\d\d$/.test(source)) return `"${of(days)}"`;
  const number = /^((?:max|min) )?([\d.]+)((?:\.\.| ±)[\d.]+)?(\s*\D.*)?$/.exec(source);
  if (number) {
    const [, bound = '', , , unit = ''] = number;
    const forms = [`${bound}${of(extremes)}`, `max ${of(extremes)}`, `${of(extremes)}..123456789`, `${of(extremes)} ±${of(extremes)}`];
    return unit === '' ? of(extremes) : `"${forms[n % forms.length]}${unit}"`;
  }
  return /^[a-z0-9-]+$/.test(source) ? of(names) : `"${of(words)}"`;
}

it('values of the right form at the edges of what is read: checked, compiled, and set onto all pages as a draft', () => {
  const faces = openFaces(readFonts(path.join(projectFolder, 'dist/fonts')));
  const all = Object.entries(small).flatMap(([file, text]) => (file.startsWith('/shop/') ? scalarsOf(file, text) : []));
  const names = all.map(({ source }) => source).filter((one) => /^[a-z0-9-]+$/.test(one));
  fc.assert(
    fc.property(fc.array(fc.tuple(fc.nat(all.length - 1), fc.nat(1000)), { minLength: 1, maxLength: 3 }), (picks) => {
      const changed = { ...small };
      // From behind, so that what stands before keeps its place.
      const chosen = picks.flatMap(([at, n]) => (all[at] ? [{ node: all[at], n }] : [])).sort((a, b) => b.node.start - a.node.start);
      for (const { node, n } of new Map(chosen.map((one) => [one.node, one])).values()) {
        const text = changed[node.file.path] ?? '';
        changed[node.file.path] = text.slice(0, node.start) + otherValue(node, n, names) + text.slice(node.end);
      }
      isPrinted(changed, faces);
    }),
    { numRuns: runs(0.02, 100), seed },
  );
}, 3_600_000);

it('one to three mistakes in the demo shop: findings, each with a place and words', () => {
  fc.assert(
    fc.property(fc.array(mutationOf(files), { minLength: 1, maxLength: 3 }), (mutations) => {
      const changed = { ...texts };
      for (const one of mutations) changed[one.file] = mutated(changed[one.file] ?? '', one);
      const library = libraryOf(changed);
      sane(checkLibrary(library));
      for (const job of library.jobs.values()) expect(() => compileJob(library, job)).not.toThrow();
    }),
    { numRuns: runs(0.001, 40), seed },
  );
}, 3_600_000);

it('what an editor asks anywhere in a text with mistakes', () => {
  const asked = fc.record({ file: fc.constantFrom(...Object.keys(small)), at: fc.nat(8000) });
  fc.assert(
    fc.property(
      fc.array(mutationOf(Object.keys(small)), { maxLength: 3 }),
      fc.array(asked, { minLength: 1, maxLength: 20 }),
      (wrong, all) => {
        const changed = { ...small };
        for (const one of wrong) changed[one.file] = mutated(changed[one.file] ?? '', one);
        const library = libraryOf(changed);
        for (const { file, at } of all) {
          const text = changed[file] ?? '';
          const offset = at % (text.length + 1);
          const found = library.files.find((one) => file.endsWith(one.file.path.replace('baywright:', '/')));
          const span = definitionAt(library, found, text, offset);
          if (span) {
            expect(span.start).toBeLessThan(span.end);
            expect(span.end).toBeLessThanOrEqual(span.file.text.length);
          }
          const hover = hoverAt(library, found, text, offset);
          if (hover) expect(hover.words).not.toMatch(/\b(undefined|NaN|Infinity)\b|\[object/);
          for (const { name, detail } of suggestionsAt(library, found, text, offset))
            expect(`${name} ${detail}`).not.toMatch(/\bundefined\b/);
        }
      },
    ),
    { numRuns: runs(0.005, 100), seed },
  );
}, 3_600_000);

it('records of a screen: whatever was ticked and written, what is open is told, and the sheet with it is printed', () => {
  const faces = openFaces(readFonts(path.join(projectFolder, 'dist/fonts')));
  const jobs = [
    ...['2041-head-gasket', '2044-pinion-seal', '2049-receiver', '2051-injectors'].map((id) => compiled(libraryOf(texts), id)),
    compiled(libraryOf(valves), 'valves'),
  ];
  const keysIn = (pieces: readonly Piece[]): string[] =>
    pieces.flatMap((piece) => (piece.kind === 'element' ? [...(piece.field ? [piece.field.key] : []), ...keysIn(piece.children)] : []));
  const keys = new Map(jobs.map((job) => [job, baySheet(job, faces.measure).pages.flatMap(({ pieces }) => keysIn(pieces))]));
  const number = fc.oneof(
    fc.double().map(String),
    fc.integer({ min: -9, max: 300 }).map(String),
    fc.stringMatching(/^\d{1,3}[.,/ ]\d{1,4}$/),
  );
  const text = fc.oneof(number, number, fc.constantFrom(...odd), fc.string({ unit: 'binary', maxLength: 300 }));
  fc.assert(
    fc.property(fc.constantFrom(...jobs), fc.infiniteStream(fc.tuple(fc.nat(3), text)), (job, written) => {
      const ticks: Record<string, unknown> = {};
      const values: Record<string, string> = Object.create(null);
      for (const key of [...(keys.get(job) ?? []), '__proto__', 'constructor', 'M-99/7']) {
        const [how, value] = written.next().value ?? [0, ''];
        if (how > 0) ticks[key] = how > 1 || value;
        if (how > 1) values[key] = value;
      }
      const record = { ticks, values };
      for (const line of leftOpenIn(job, faces.measure, record)) expect(line).not.toMatch(/\bundefined\b|\[object|^\s*$/);
      const made = outputsOf(job, faces, { format: 'pdf', after: null, papers: [], workings: false, record });
      expect(made.get('bay-sheet-recorded.pdf')?.length).toBeGreaterThan(1000);
    }),
    { numRuns: runs(0.005, 40), seed },
  );
}, 3_600_000);

const place = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-fuzz-'));
afterAll(() => fs.rmSync(place, { recursive: true, force: true }));

it('command lines: an answer in words, status 0, 1 or 2, nothing written outside --out', () => {
  const shop = path.join(place, 'shop');
  fs.cpSync(path.join(projectFolder, 'tests/fixtures/corner-garage'), shop, { recursive: true });
  fs.writeFileSync(path.join(place, 'beside.txt'), 'mine');
  const word = fc.oneof(
    fc.constantFrom(
      'check',
      'build',
      'new',
      'explain',
      'merge',
      '--format',
      'json',
      'html',
      'sarif',
      '--out',
      'paper',
      '--draft',
      '--after',
      '5',
      '--workings',
      '--paper',
      'quote',
      '--value',
      'quote/gross',
      '--max-warnings',
      '--baseline',
      '--shard',
      '1/2',
      '0/0',
      '3001-pump',
      'jobs/3001-pump.yaml',
      'shop.yaml',
      '.',
      '..',
      'no-such',
      '--help',
      '--version',
      '--no-cache',
      'ledger/left-open',
      'job',
      'procedure',
      'x',
      '',
      '-',
      '--',
      '-v',
      '--out=paper',
      '../../etc/passwd',
      '\u0000',
    ),
    fc.string({ maxLength: 8 }),
  );
  fc.assert(
    fc.property(fc.array(word, { maxLength: 6 }), (args) => {
      // The shell cannot pass a null, and `editor` waits for an editor; paper goes where the test may look.
      const line = args.map((one) => one.replaceAll('\u0000', '')).filter((one) => one !== 'editor');
      if (line.includes('--out') && line[line.indexOf('--out') + 1] !== 'paper') return;
      if (
        line.some((one) => one.startsWith('--out=') && one !== '--out=paper') ||
        line.includes('--fix') ||
        line.includes('--write-baseline')
      )
        return;
      const { status, stdout, stderr, signal } = spawnSync(process.execPath, [path.join(projectFolder, 'bin/baywright.js'), ...line], {
        cwd: shop,
        encoding: 'utf8',
        timeout: 60_000,
      });
      const said = JSON.stringify({ line, status, signal, stderr });
      expect([0, 1, 2], said).toContain(status);
      expect(`${stdout}${stderr}`, said).not.toMatch(/^\s+at .*:\d+:\d+\)?$|something went wrong inside/m);
      if (status !== 0) expect(stdout.length + stderr.length, said).toBeGreaterThan(0);
    }),
    { numRuns: runs(0.001, 40), seed },
  );
  expect(fs.readdirSync(place).sort()).toEqual(['beside.txt', 'shop']);
  expect(fs.readFileSync(path.join(place, 'beside.txt'), 'utf8')).toBe('mine');
}, 3_600_000);
