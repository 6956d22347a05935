// Paper in a second language: a shop that writes German gets all of its paper in German, with figures, dates and money
// as the locale writes them. The shop is made up.
import path from 'node:path';
import { expect, it } from 'vitest';
import { htmlOf } from '../src/emit/html/html.js';
import { openFaces, refuseMissing } from '../src/emit/pdf/fonts.js';
import { baySheet } from '../src/layout/bay-sheet.js';
import { fluidsSheet } from '../src/layout/fluids-sheet.js';
import { handOverTag } from '../src/layout/hand-over-tag.js';
import { marksOf, type Paper } from '../src/layout/page.js';
import { partsList } from '../src/layout/parts-list.js';
import { quotePaper } from '../src/layout/quote.js';
import { toolList } from '../src/layout/tool-list.js';
import { torqueCard } from '../src/layout/torque-card.js';
import type { CompiledJob } from '../src/schema/generated/compiled-job.js';
import { en } from '../src/words/en.js';
import { wordsOf } from '../src/words/words.js';
import { readFonts } from '../src/world/fonts.js';
import { compiled, demoTexts, demoWith, found, libraryOf, projectFolder, textsOf } from './helpers/shop.js';

const texts = {
  ...textsOf(path.join(projectFolder, 'tests/fixtures/werkstatt'), '/shop'),
  ...textsOf(path.join(projectFolder, 'procedures'), '/shipped'),
};
const faces = openFaces(readFonts(path.join(projectFolder, 'dist/fonts')));
const papersOf = (job: CompiledJob): Paper[] => [
  baySheet(job, faces.measure, { workings: true }),
  torqueCard(job, faces.measure),
  fluidsSheet(job, faces.measure),
  toolList(job, faces.measure),
  partsList(job, faces.measure),
  quotePaper(job, faces.measure),
  handOverTag(job, faces.measure, 10),
];
const textOf = (paper: Paper): string =>
  paper.pages
    .flatMap((page) => marksOf(page.pieces).flatMap((mark) => (mark.kind === 'text' || mark.kind === 'across' ? [mark.text] : [])))
    .join('\n')
    .replaceAll('\u00a0', ' ');

it('the shop is clean', () => {
  expect(found(libraryOf(texts))).toEqual([]);
});

const job = compiled(libraryOf(texts), '4001-pumpe');

it.each(papersOf(job).map((paper) => [paper.title, paper] as const))('%s has no English word of the tool on it', (_, paper) => {
  // Paths in job.json and the name of a method are the same in every language.
  const text = textOf(paper)
    .replace(/\b[a-z]\w*(\/[\w-]+)+/gi, '')
    .replace('Branch and Bound', '');
  const english =
    text.match(
      /\b(the|and|with|step|page|tighten|remove|from|open|closed|total|labour|until|back|new|places|rounded|share|rate|line|each)\b/gi,
    ) ?? [];
  expect(english).toEqual([]);
  expect(paper.language).toBe('de-DE');
  refuseMissing([text.replaceAll('\n', '')]);
});

it('figures, dates and money are written as in Germany, and no digit changes', () => {
  const [sheet, card, fluids, , parts, quote] = papersOf(job).map(textOf);
  expect(card).toContain('8,5 N·m · 14 N·m · +45°');
  expect(fluids).toMatch(/5,23 \/ 4,27/);
  expect(sheet).toContain('höchstens 40 °C');
  expect(sheet).toMatch(/\b2,55 h Arbeit/);
  expect(sheet).toContain('25.11.2026');
  expect(sheet).toContain('M8x1.25x30');
  expect(quote).toContain('25. November 2026');
  expect(quote).toContain('1.661,70');
  expect(parts).toContain('1.084,50');
});

it('sentences are made from verb and object, so that no adjective has to bend', () => {
  const sentences = job.steps.map((step) => step.sentence);
  expect(sentences).toContain('Einbauen: oberer Kühlerschlauch');
  expect(sentences.some((sentence) => /^Probefahrt, \d+ km$/.test(sentence))).toBe(true);
  expect(textOf(baySheet(job, faces.measure))).toContain('oberer Kühlerschlauch: ausgebaut bei Schritt 15');
});

it('the page for a screen speaks it too', () => {
  const html = htmlOf(job, 'Auftrag', [{ name: 'bay-sheet', paper: baySheet(job, faces.measure) }]);
  expect(html).toMatch(/<html lang="de-DE"/);
  expect(html).toContain('Aufzeichnung sichern');
  expect(html).toContain('{done} von {all} abgehakt');
});

it('a single job may be in another language than its shop: the words of the tool change, the documents stay as they are written', () => {
  const library = demoWith(['/shop/jobs/2042-hub-bearing.yaml', 'number: "2042"', 'number: "2042"\nlanguage: de']);
  expect(found(library).filter((one) => one.place.includes('2042'))).toEqual([]);
  const one = compiled(library, '2042-hub-bearing');
  expect([one.shop.language, one.shop.locale]).toEqual(['de', 'de-GB']);
  expect(textOf(baySheet(one, faces.measure))).toContain('Anziehen: axle nut');
  expect(compiled(library, '2041-head-gasket').shop.language).toBe('en');
});

it('without a word of its own, a shop gets the language of its locale, and English where there is none', () => {
  const shop = (locale: string) => demoWith(['/shop/shop.yaml', 'locale: en-GB', `locale: ${locale}`]);
  expect(compiled(shop('de-AT'), '2042-hub-bearing').shop).toMatchObject({ language: 'de', locale: 'de-AT' });
  expect(compiled(shop('pl-PL'), '2042-hub-bearing').shop).toMatchObject({ language: 'en', locale: 'en-PL' });
});

it('the shipped preparations in another language do the same work, step by step', () => {
  const prose = /^(\s*(?:- )?)(name|says|why|warning|danger|caution|notice|outside|until|with): (?!\[).*$/;
  const bones = (text: string) =>
    text
      .replace(/says: "[^"]*"/g, 'says')
      .replace(/what: [^,}]*/g, 'what')
      .split('\n')
      .filter((line) => !line.startsWith('#'))
      .map((line) => line.replace(prose, '$1$2'))
      .join('\n');
  const english = Object.entries(demoTexts()).filter(([file]) => /^\/shipped\/[^/]+$/.test(file));
  expect(english.length).toBeGreaterThan(5);
  for (const [file, text] of english) expect(bones(texts[file.replace('/shipped/', '/shipped/de/')] ?? ''), file).toBe(bones(text));
});

it('every word of the catalogue has its counterpart, and no sentence was left as it was', () => {
  const same: string[] = [];
  const compare = (a: unknown, b: unknown, at: string): void => {
    expect(typeof b, at).toBe(typeof a);
    if (typeof a === 'string') {
      if (a === b && /[a-z]{3}/.test(a)) same.push(at);
    } else if (typeof a === 'object' && a !== null && typeof b === 'object' && b !== null)
      for (const [key, value] of Object.entries(a)) compare(value, (b as Record<string, unknown>)[key], `${at}/${key}`);
  };
  compare(en, wordsOf('de'), '');
  expect(same).toEqual([]);
});

it('what a step waits for is told in German, a width across flats of any size, and no head of a column is broken', () => {
  const german = demoWith(['/shop/shop.yaml', 'locale: en-GB', 'locale: de-DE\nlanguage: de']);
  const job = compiled(german, '2041-head-gasket');
  expect(job.steps.flatMap((step) => step.onlyIf ?? [])).toEqual([expect.stringMatching(/ außerhalb der Grenze$/)]);
  expect(['1-1/2 AF', '7/8 AF', '10 AF flange'].map(wordsOf('de').drive)).toEqual(['SW 1-1/2', 'SW 7/8', 'SW 10 Bund']);
  let heads = 0;
  const headsIn = (pieces: Paper['pages'][number]['pieces']): string[] =>
    pieces.flatMap((piece) => {
      if (piece.kind !== 'element') return [];
      return piece.tag === 'TH'
        ? marksOf(piece.children).flatMap((mark) => (mark.kind === 'text' ? [mark.text] : []))
        : headsIn(piece.children);
    });
  for (const library of [german, libraryOf(demoTexts())])
    for (const id of library.jobs.keys())
      for (const paper of papersOf(compiled(library, id)))
        for (const page of paper.pages)
          for (const text of headsIn(page.pieces)) {
            heads++;
            expect(text).not.toMatch(/[-\u00ad]$/);
          }
  expect(heads).toBeGreaterThan(500);
});

it('what no document names is a noun, with a capital; what the tool knows has its German name', () => {
  const name = '/shop/procedures/pumpe-thermostat.yaml';
  const named = {
    ...texts,
    [name]: (texts[name] ?? '').replace(
      /^steps:\n/m,
      'steps:\n  - inspect: ausleger\n    says: steht\n  - inspect: brake-pedal\n    says: fest\n',
    ),
  };
  const sentences = compiled(libraryOf(named), '4001-pumpe').steps.map((step) => step.sentence);
  expect(sentences).toEqual(expect.arrayContaining(['Besichtigen: Ausleger', 'Besichtigen: Bremspedal']));
});

it('what cannot be ticked, and what stands for steps or pictures that are not there, is told of German words too', () => {
  const told = (says: string) =>
    found(demoWith(['/shop/procedures/undertray-off.yaml', 'steps:\n', `steps:\n  - inspect: leaks\n    says: ${says}\n`]))
      .map(({ rule }) => rule)
      .filter((rule) => rule.startsWith('step/'));
  for (const says of [
    'Bei Bedarf nachfüllen.',
    'Reinigen, falls nötig.',
    'Wenn erforderlich, nacharbeiten.',
    'Darauf achten, dass nichts klemmt.',
  ])
    expect(told(says), says).toEqual(['step/vague']);
  expect(told('Einbau in umgekehrter Reihenfolge.')).toEqual(['step/in-words']);
  expect(told('Einbauen wie abgebildet.')).toEqual(['step/points-nowhere']);
  expect(told('Ein Tropfen in 30 s, siehe Abb. 4.')).toEqual(['step/points-nowhere']);
  for (const says of [
    'Von oben und von unten ansehen; nichts tropft.',
    'Ein Bild der Lage machen.',
    'Wie nötig die Reinigung ist, zeigt die Probe.',
  ])
    expect(told(says), says).toEqual([]);
});
