// Invariants are absences: which folder may know what. And what layout makes stays on the paper.
import fs from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { isMadeAnew } from '../src/emit/names.js';
import { outputsOf } from '../src/emit/outputs.js';
import { openFaces } from '../src/emit/pdf/fonts.js';
import { baySheet } from '../src/layout/bay-sheet.js';
import { lines, plainStyle } from '../src/layout/blocks.js';
import { marksOf } from '../src/layout/page.js';
import { partsList } from '../src/layout/parts-list.js';
import { quotePaper } from '../src/layout/quote.js';
import { recorded } from '../src/layout/recorded.js';
import { torqueCard } from '../src/layout/torque-card.js';
import { verbNames } from '../src/ledger/verbs.js';
import { allRules } from '../src/rules/index.js';
import { definitions } from '../src/schema/generated/schemas.js';
import { readFonts } from '../src/world/fonts.js';
import { compiled, demoTexts, libraryOf, projectFolder } from './helpers/shop.js';

interface Schema {
  readonly $ref?: string;
  readonly $defs?: Readonly<Record<string, Schema>>;
  readonly description?: string;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly items?: Schema;
  readonly additionalProperties?: Schema | boolean;
}

const sources = (folder: string): string[] =>
  fs
    .readdirSync(folder, { withFileTypes: true })
    .flatMap((entry) =>
      entry.name === 'generated' || entry.name === 'dev'
        ? []
        : entry.isDirectory()
          ? sources(path.join(folder, entry.name))
          : [path.join(folder, entry.name)],
    );
const src = path.join(projectFolder, 'src');

it.each([
  ['yaml', /^syntax\//],
  ['js-yaml', /^syntax\//],
  ['ajv', /^schema\//],
  ['pdfkit', /^emit\/pdf\//],
  ['fontkit', /^emit\/pdf\//],
  ['chalk', /^cli\//],
  ['commander', /^cli\//],
  ['vscode-languageserver', /^editor\//],
  ['node:fs', /^(world|cli)\//],
])('only the folder that is meant for it imports %s', (name, allowed) => {
  const importing = sources(src)
    .filter((file) => new RegExp(`(?:from |require\\(|load\\()'${name}(/[^']*)?'`).test(fs.readFileSync(file, 'utf8')))
    .map((file) => path.relative(src, file).split(path.sep).join('/'));
  expect(importing.filter((file) => !allowed.test(file))).toEqual([]);
  expect(importing.length).toBeGreaterThan(0);
});

it('no module is imported for what it does by being imported: bundles leave such out (`sideEffects` in package.json)', () => {
  const files = sources(src);
  expect(files.length).toBeGreaterThan(200);
  for (const file of files) expect(fs.readFileSync(file, 'utf8'), file).not.toMatch(/^import ['"]/m);
});

it('what a file exports is asked for by another: what nobody asks for is private, or goes', () => {
  const texts = ['src', 'tests', 'bin'].flatMap((folder) =>
    fs
      .readdirSync(path.join(projectFolder, folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.(ts|mjs|js)$/.test(name))
      .map((name) => ({ file: path.join(projectFolder, folder, name), words: new Set<string>() })),
  );
  for (const text of texts) text.words = new Set(fs.readFileSync(text.file, 'utf8').match(/[A-Za-z_$][\w$]*/g));
  const alone = sources(src).flatMap((file) =>
    [...fs.readFileSync(file, 'utf8').matchAll(/^export (?:const|(?:async )?function\*?|class) (\w+)/gm)]
      .map((found) => String(found[1]))
      .filter((name) => !texts.some((other) => other.file !== file && other.words.has(name)))
      .map((name) => `${path.relative(src, file)}: ${name}`),
  );
  expect(texts.length).toBeGreaterThan(300);
  expect(alone).toEqual([]);
});

it('every rule name that the source reports has its words and examples', () => {
  const registered = new Set(allRules.map((rule) => rule.name));
  const named = sources(src).flatMap((file) =>
    [...fs.readFileSync(file, 'utf8').matchAll(/(?:report|refuse)\(\s*['`]([a-z]+\/[a-z-]+)['`]|rule: '([a-z]+\/[a-z-]+)'/g)].map(
      (match) => match[1] ?? match[2] ?? '',
    ),
  );
  expect(named.length).toBeGreaterThan(30);
  expect([...new Set(named)].filter((name) => !registered.has(name))).toEqual([]);
});

it('the clock is asked at the prompt only', () => {
  const asking = sources(src)
    .filter((file) => /new Date\(\)|Date\.now/.test(fs.readFileSync(file, 'utf8')))
    .map((file) => path.relative(src, file));
  // The page for a screen runs in a browser, which notes when a record was saved.
  // A run that waits for another one to finish, or to write into a pipe, looks at the time too.
  const waiting = ['whole.ts', 'pipe.ts'].map((name) => path.join('world', name));
  const allowed = (file: string) =>
    file.startsWith('cli') || waiting.includes(file) || file.startsWith(path.join('emit', 'html', 'screen'));
  expect(asking.filter((file) => !allowed(file))).toEqual([]);
});

it('the schema of steps and the table of verbs name the same verbs, each explained', () => {
  const keys = definitions.step?.properties ?? {};
  for (const verb of verbNames) expect(keys[verb]?.description, verb).toBeTruthy();
});

it('every key of every schema is explained in more than its own words', () => {
  const folder = path.join(projectFolder, 'schemas');
  const terse: string[] = [];
  let keys = 0;
  const look = (schema: Schema, where: string): void => {
    for (const [name, one] of Object.entries(schema.properties ?? {})) {
      keys++;
      const behind = one.$ref?.startsWith('#') || one.$ref?.startsWith('common') ? common[one.$ref.replace(/^.*\//, '')] : undefined;
      const says = one.description ?? behind?.description ?? '';
      if (!/^(\S+ ){2,}\S+\.( |$)/.test(says)) terse.push(`${where}.${name}: ${says}`);
      look(one, `${where}.${name}`);
    }
    if (schema.items) look(schema.items, `${where}[]`);
    if (typeof schema.additionalProperties === 'object') look(schema.additionalProperties, `${where}.*`);
  };
  const read = (name: string): Schema => JSON.parse(fs.readFileSync(path.join(folder, name), 'utf8'));
  const common = { ...read('common.schema.json').$defs, ...read('compiled-job.schema.json').$defs };
  for (const name of fs.readdirSync(folder)) {
    const schema = read(name);
    look(schema, name);
    for (const [id, one] of Object.entries(schema.$defs ?? {})) look(one, `${name}#${id}`);
  }
  expect(terse).toEqual([]);
  expect(keys).toBeGreaterThan(800);
});

it('the demo shop, the library and the schemas hold documents, and nothing that a tool left there', () => {
  const others = ['examples', 'procedures', 'schemas'].flatMap((folder) =>
    fs
      .readdirSync(path.join(projectFolder, folder), { recursive: true, withFileTypes: true })
      .filter((one) => one.isFile() && !/\.(ya?ml|schema\.json)$/.test(one.name))
      .map(({ name }) => `${folder}: ${name}`),
  );
  expect(others).toEqual([]);
});

it('nothing on paper leaves the page, and no text is under 9 pt', () => {
  const faces = openFaces(readFonts(path.join(projectFolder, 'dist/fonts')));
  const library = libraryOf(demoTexts());
  for (const id of library.jobs.keys()) {
    const job = compiled(library, id);
    for (const size of ['A4', 'Letter'] as const) {
      const sized = { ...job, shop: { ...job.shop, paper: size } };
      for (const paper of [
        baySheet(sized, faces.measure),
        torqueCard(sized, faces.measure),
        partsList(sized, faces.measure),
        quotePaper(sized, faces.measure),
      ]) {
        for (const page of paper.pages) {
          for (const mark of marksOf(page.pieces)) {
            if (mark.kind !== 'text') continue;
            expect(mark.size).toBeGreaterThanOrEqual(9);
            expect(mark.x).toBeGreaterThanOrEqual(0);
            expect(mark.x + faces.measure.width(mark.text, mark.size, mark.weight), `${paper.title}: ${mark.text}`).toBeLessThanOrEqual(
              page.width + 0.5,
            );
            expect(mark.y + mark.size).toBeLessThanOrEqual(page.height);
          }
        }
      }
    }
  }
});

it('what was written into a blank stays in it, however long it is, on one line and in letters of the font', () => {
  const { measure } = openFaces(readFonts(path.join(projectFolder, 'dist/fonts')));
  const job = compiled(libraryOf(demoTexts()), '2045-front-brakes');
  const code = job.measurements[0]?.code ?? '';
  const sheet = baySheet(job, measure);
  const written = (value: string) => {
    const { pages } = recorded(sheet, { ticks: {}, values: { [code]: value } }, measure);
    const [before, after] = [sheet.pages, pages].map((all) => marksOf(all.flatMap((page) => page.pieces)));
    const known = new Set(before);
    return (after ?? []).flatMap((mark) => (mark.kind === 'text' && !known.has(mark) ? [mark] : []));
  };
  expect(written('24.1').map(({ text }) => text)).toContain('24.1');
  expect(written(' 24.1\n\tmm ').map(({ text }) => text)).toContain('24.1 mm');
  const [cut, ...more] = written('x'.repeat(3_000_000));
  expect(cut?.text).toMatch(/^x{2,60}…$/);
  for (const one of [cut, ...more]) expect(measure.width(one?.text ?? '', one?.size ?? 0, 'semibold')).toBeLessThan(400);
  // What the font lacks, as on a phone, is spelt out.
  expect(written('ok \u{1f44d}')[0]?.text).toMatch(/^ok U\+1F44D$/);
  for (const { text } of written('\u{1d400}'.repeat(500))) expect(text).toMatch(/^U\+1D400.*…$/);
});

it('a word of any length is parted into lines that fit, and nothing of it is lost', () => {
  const { measure } = openFaces(readFonts(path.join(projectFolder, 'dist/fonts')));
  for (const word of ['x'.repeat(300_000), 'MW'.repeat(1000), `${'ab'.repeat(400)}-${'cd'.repeat(400)}`, 'i'.repeat(501)]) {
    const parted = lines(measure, `before ${word} after`, 200, plainStyle);
    for (const line of parted) expect(measure.width(line, plainStyle.size, plainStyle.weight)).toBeLessThanOrEqual(200);
    expect(parted.join('').replace(/[- ]/g, '')).toBe(`before${word}after`.replaceAll('-', ''));
  }
});

it('what a build makes is known by its name, but for the sheet as it was ticked', () => {
  const faces = openFaces(readFonts(path.join(projectFolder, 'dist/fonts')));
  const job = compiled(libraryOf(demoTexts()), '2045-front-brakes');
  const made = outputsOf(job, faces, { format: 'both', workings: false, after: 3, record: { ticks: {}, values: {} } });
  expect([...made.keys()].filter((name) => !isMadeAnew(name))).toEqual(['bay-sheet-recorded.pdf']);
  expect(isMadeAnew('notes.pdf')).toBe(false);
});
