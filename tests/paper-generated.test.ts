// A hundred generated jobs: nothing leaves the page, no two texts lie on each other, no row is lost.
import path from 'node:path';
import fc from 'fast-check';
import { beforeAll, expect, it } from 'vitest';
import { openFaces } from '../src/emit/pdf/fonts.js';
import { baySheet } from '../src/layout/bay-sheet.js';
import { fluidsSheet } from '../src/layout/fluids-sheet.js';
import { handOverTag } from '../src/layout/hand-over-tag.js';
import { type Mark, marksOf, type Page } from '../src/layout/page.js';
import { partsList } from '../src/layout/parts-list.js';
import { quotePaper } from '../src/layout/quote.js';
import { toolList } from '../src/layout/tool-list.js';
import { torqueCard } from '../src/layout/torque-card.js';
import { readFonts } from '../src/world/fonts.js';
import { compiled, demoTexts, libraryOf, projectFolder } from './helpers/shop.js';

const faces = openFaces(readFonts(path.join(projectFolder, 'dist/fonts')));
const { measure } = faces;

/** Names as people have them, and words as long as some languages make them. */
const words = [
  'Ölfiltergehäusedeckeldichtung',
  'Zylinderkopfschraubenanzugsverfahren',
  'głowica cylindrów',
  'żółta śruba',
  'Ελαστικός δακτύλιος',
  'œuvre achevée',
  'pump',
  'a',
  'bracket, left-hand, lower',
  'Kraftstoffhochdruckleitungsverschraubung',
];
const word = fc.constantFrom(...words);
const sentence = fc.array(word, { minLength: 1, maxLength: 14 }).map((list) => list.join(' ').slice(0, 110).trim());
const stage = fc.constantFrom('{ torque: 12 N·m }', '{ torque: 30 N·m }', '{ torque: 28 ±2 N·m }', '{ by-hand: 3 }', '{ wait: 5 min }');
const group = fc.record({
  count: fc.constantFrom(1, 2, 4, 5, 9, 12, 17, 20, 32),
  name: sentence,
  stages: fc.array(stage, { minLength: 1, maxLength: 5 }),
  bolts: fc.boolean(),
  angle: fc.boolean(),
  placed: fc.boolean(),
});
const generated = fc.record({
  groups: fc.oneof(
    { weight: 9, arbitrary: fc.array(group, { minLength: 1, maxLength: 6 }) },
    { weight: 1, arbitrary: fc.array(group, { minLength: 24, maxLength: 34 }) },
  ),
  notes: fc.array(fc.record({ says: sentence, warning: fc.option(sentence), why: fc.option(sentence) }), { minLength: 1, maxLength: 110 }),
  paper: fc.constantFrom('A4', 'Letter'),
  complaint: sentence,
});

function library(one: {
  groups: { count: number; name: string; stages: string[]; bolts: boolean; angle: boolean; placed: boolean }[];
  notes: { says: string; warning: string | null; why: string | null }[];
  paper: string;
  complaint: string;
}) {
  const quoted = (text: string) => JSON.stringify(text);
  const positions = (count: number) =>
    `[${Array.from({ length: count }, (_, index) => `[${(index % 8) * 60}, ${Math.floor(index / 8) * 70}]`).join(', ')}]`;
  const fasteners = one.groups.map((each, index) => {
    const stages = each.angle ? ['{ torque: 20 N·m }', '{ angle: 90 deg }', '{ angle: 90 deg }'] : each.stages;
    return `  g${index}: { name: ${quoted(each.name)}, count: ${each.count}, thread: M10x1.5x45, class: "10.9", drive: 16 AF, reuse: always, threads: dry, sequence: centre-out${each.placed ? `, positions: ${positions(each.count)}` : ''}${each.bolts ? ', bolts: bolt by bolt' : ''}, stages: [${stages.join(', ')}] }`;
  });
  const notes = one.notes.map(
    (note, index) =>
      `  - clean: face-${index}\n    says: ${quoted(note.says)}\n${note.warning ? `    warning: ${quoted(note.warning)}\n` : ''}${note.why ? `    why: ${quoted(note.why)}\n` : ''}`,
  );
  return libraryOf({
    ...demoTexts(),
    '/shop/shop.yaml': (demoTexts()['/shop/shop.yaml'] ?? '').replace('paper: A4', `paper: ${one.paper}`),
    '/shop/vehicles/made.yaml': `kind: vehicle\nid: made\nname: ${quoted(one.complaint)}\nsource: { document: made }\nparts:\n${one.groups.map((_, index) => `  p${index}: { name: ${quoted(words[index] ?? 'part')}, fasteners: g${index} }`).join('\n')}\nfasteners:\n${fasteners.join('\n')}\n`,
    '/shop/procedures/made-work.yaml': `kind: procedure\nid: made-work\nname: Made work\nfor: made\nlabour: { all: { time: 1 h } }\nsteps:\n${one.groups.map((_, index) => `  - remove: p${index}`).join('\n')}\n${notes.join('')}close-up:\n${one.groups.map((_, index) => `  - fit: p${index}\n  - tighten: p${index}`).join('\n')}\n`,
    '/shop/jobs/made-job.yaml': `kind: job\nid: made-job\ndate: "2026-11-25"\nvehicle: made\nplate: "AB 1"\ncomplaint: ${quoted(one.complaint)}\nwork: [made-work]\n`,
  });
}

type Text = Extract<Mark, { kind: 'text' }>;

function faultsOf(page: Page): string[] {
  const marks = marksOf(page.pieces);
  const texts = marks.filter((mark): mark is Text => mark.kind === 'text');
  const boxes = texts.map((text) => ({
    text,
    left: text.x,
    right: text.x + measure.width(text.text.trim(), text.size, text.weight),
    top: text.y + text.size * 0.22,
    bottom: text.y + text.size * 0.92,
  }));
  const off = boxes
    .filter((box) => box.left < 0 || box.right > page.width || box.top < 0 || box.bottom > page.height)
    .map((box) => `off the page: ${box.text.text}`);
  const lines = marks
    .filter((mark) => mark.kind === 'box' && (mark.x < -0.5 || mark.x + mark.w > page.width + 0.5 || mark.y + mark.h > page.height + 0.5))
    .map(() => 'a box leaves the page');
  const over: string[] = [];
  const sorted = [...boxes].sort((a, b) => a.top - b.top);
  sorted.forEach((a, index) => {
    for (let next = index + 1; next < sorted.length; next++) {
      const b = sorted[next];
      if (!b || b.top >= a.bottom) break;
      if (a.left < b.right - 0.5 && b.left < a.right - 0.5) over.push(`“${a.text.text}” and “${b.text.text}” lie on each other`);
    }
  });
  const crossed = marks.flatMap((mark) =>
    mark.kind === 'box'
      ? boxes.flatMap(({ text, left, right, top, bottom }) =>
          bottom > mark.y + 1 && top < mark.y + mark.h - 1 && [mark.x, mark.x + mark.w].some((edge) => left < edge - 1 && right > edge + 1)
            ? [`“${text.text}” crosses the edge of a box`]
            : [],
        )
      : [],
  );
  return [...off, ...lines, ...over, ...crossed];
}

let demo: ReturnType<typeof libraryOf>;
beforeAll(() => {
  demo = libraryOf(demoTexts());
});

const papersOf = (library: ReturnType<typeof libraryOf>, id: string) => {
  const job = compiled(library, id);
  return {
    job,
    papers: [
      baySheet(job, measure, { workings: true }),
      torqueCard(job, measure),
      partsList(job, measure),
      quotePaper(job, measure),
      toolList(job, measure),
      fluidsSheet(job, measure),
      handOverTag(job, measure, Math.ceil(job.steps.length / 2)),
    ],
  };
};

it('what lies on something else is seen', () => {
  const text = (x: number, words: string): Mark => ({ kind: 'text', x, y: 20, size: 10, weight: 'regular', text: words });
  const box: Mark = { kind: 'box', x: 30, y: 15, w: 40, h: 20, width: 0.7 };
  const faults = (...pieces: Mark[]) => faultsOf({ width: 200, height: 100, pieces });
  expect(faults(box, text(32, 'in it'), text(80, 'beside it'))).toEqual([]);
  expect(faults(box, text(62, 'out of it'))).toEqual(['“out of it” crosses the edge of a box']);
  expect(faults(text(10, 'one word'), text(20, 'another'))).toEqual(['“one word” and “another” lie on each other']);
  expect(faults(text(190, 'too long'))).toEqual(['off the page: too long']);
});

it('all paper of the demo', () => {
  for (const id of demo.jobs.keys()) {
    for (const paper of papersOf(demo, id).papers)
      for (const [index, page] of paper.pages.entries()) expect(faultsOf(page), `${paper.title}, page ${index + 1}`).toEqual([]);
  }
});

it.each([
  ['US qt', 'oz', 'en', 'Letter'],
  ['US gal', 'lb', 'de', 'A4'],
  ['imp pt', 'kg', 'en', 'A4'],
  ['imp gal', 'oz', 'de', 'Letter'],
] as const)('all paper of the demo in %s and %s, %s, on %s', (volume, mass, language, paper) => {
  const shop = demoTexts()['/shop/shop.yaml']?.replace(/^(?:volume-unit|mass-unit|language|paper):.*\n/gm, '') ?? '';
  const library = libraryOf({
    ...demoTexts(),
    '/shop/shop.yaml': `${shop}volume-unit: ${volume}\nmass-unit: ${mass}\nlanguage: ${language}\npaper: ${paper}\n`,
  });
  for (const id of library.jobs.keys())
    for (const sheet of papersOf(library, id).papers)
      for (const [index, page] of sheet.pages.entries()) expect(faultsOf(page), `${sheet.title}, page ${index + 1}`).toEqual([]);
});

it('the foot has room for the longest state of the ledger, in both languages and on both papers', () => {
  const job = compiled(demo, '2041-head-gasket');
  for (const language of ['en', 'de'] as const)
    for (const paper of ['A4', 'Letter'] as const)
      for (const safeToLeave of [true, false]) {
        const steps = job.steps.map((step) => ({ ...step, n: step.n + 100, openAfter: 134, looseAfter: 14, safeToLeave }));
        const longest = { ...job, shop: { ...job.shop, paper, language }, steps };
        for (const page of baySheet(longest, measure).pages) expect(faultsOf(page)).toEqual([]);
      }
});

it('a hand-over tag stays one page, wherever the longest job of the demo stops, and is signed before its lists', () => {
  const job = compiled(demo, '2041-head-gasket');
  for (let after = 1; after <= job.steps.length; after++) {
    const { pages } = handOverTag(job, measure, after);
    expect([after, pages.length]).toEqual([after, 1]);
    const texts = pages.flatMap((page) => marksOf(page.pieces)).flatMap((mark) => (mark.kind === 'text' ? [mark.text] : []));
    const lists = texts.indexOf('what, since step');
    expect(texts.indexOf('handed over by'), `after ${after}`).toBeGreaterThan(0);
    if (lists >= 0) expect(texts.indexOf('handed over by'), `after ${after}`).toBeLessThan(lists);
  }
});

it('a hundred generated jobs, with long words, Greek and Polish names, 1 to 32 bolts and up to 120 steps', () => {
  fc.assert(
    fc.property(generated, (one) => {
      const { job, papers } = papersOf(library(one), 'made-job');
      const [sheet] = papers;
      for (const paper of papers)
        for (const [index, page] of paper.pages.entries()) expect(faultsOf(page), `${paper.title}, page ${index + 1}`).toEqual([]);
      const numbers = sheet?.pages.flatMap((page) =>
        marksOf(page.pieces).flatMap((mark) =>
          mark.kind === 'text' && mark.weight === 'bold' && /^\d+$/.test(mark.text) ? [Number(mark.text)] : [],
        ),
      );
      for (const step of job.steps) expect(numbers).toContain(step.n);
      if (one.groups.every((each) => each.name.length < 30)) expect(papers[1]?.pages).toHaveLength(1);
    }),
    { numRuns: 100, seed: 41 },
  );
}, 300_000);
