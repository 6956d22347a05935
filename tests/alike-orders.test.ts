// Job orders that differ only in whose they are: what is found in one is known of the others, and is the same as if it were not.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../src/findings/finding.js';
import { type LibraryFile, readDocument, type ShopDocument } from '../src/library/document.js';
import { AlikeOrders } from '../src/rules/alike-orders.js';
import { Checker } from '../src/rules/checker.js';
import { demoTexts, libraryOf } from './helpers/shop.js';

const texts = demoTexts();
const orders = Object.entries(texts).filter(([path]) => path.startsWith('/shop/jobs/'));
const without = (folders: RegExp) => Object.fromEntries(Object.entries(texts).filter(([path]) => !folders.test(path)));
/** With catalogues that lack the offers, things are told at places of other documents. */
const libraries = [
  without(/^.shop.jobs/),
  { ...without(/^.shop.(jobs|parts)/), '/shop/parts/bare.yaml': 'kind: parts\nid: bare\nitems: {}\noffers: []\n' },
];

/** The same order for another vehicle of the kind, in other hands. */
const forAnother = (text: string): string =>
  text
    .replace(/^id: .*$/m, 'id: other')
    .replace(/^number: .*$/m, 'number: "9999"')
    .replace(/^(plate|unit): .*$/gm, '$1: ZZ 99')
    .replace(/^date: .*$/m, 'date: 2026-11-27')
    .replace(/^promised: .*$/m, 'promised: "2026-12-24"')
    .replace(/^customer: .*$/m, 'customer: "Somebody else, Inc."')
    .replace(/^complaint: .*$/m, 'complaint: Same here')
    .replace(/^(technician|checker): (\w+)$/gm, '$1: X$2')
    .replace(/^odometer: \d+/m, 'odometer: 77777');

const shown = ({ rule, severity, message, span, related = [], from }: Finding) => ({
  ...{ rule, severity, message, from },
  places: [span, ...related.map((one) => one.span)].map(({ file, start, end }) => `${file.path} ${start} ${end}`),
});

/** What is found in an order, after another was looked at, if there is one. */
function foundIn(others: Readonly<Record<string, string>>, other: string, first?: string) {
  const library = libraryOf({
    ...others,
    ...(first === undefined ? {} : { '/shop/jobs/first.yaml': first }),
    '/shop/jobs/other.yaml': other,
  });
  const files = library.standing.filter(({ file }) => file.path.startsWith('jobs/'));
  const { foundIn: found } = new Checker().checkSome(library, (one) => files.includes(one));
  return files.filter(({ file }) => file.path.endsWith('other.yaml')).flatMap((one) => found(one).map(shown));
}

it.each(orders)('the same is found whether or not an alike order was looked at before: %s, with each of its lines left out', (_, text) => {
  const lines = text.trimEnd().split('\n');
  const told = libraries.map((others) => {
    let count = 0;
    for (let n = 0; n <= lines.length; n++) {
      const left = `${lines.filter((_line, index) => index !== n).join('\n')}\n`;
      const alone = foundIn(others, forAnother(left));
      count += alone.length;
      expect(foundIn(others, forAnother(left), left), `without ${lines[n]}`).toEqual(alone);
    }
    return count;
  });
  expect(told[1]).toBeGreaterThan(0);
});

/** What people write about whose order it is, and what is wrong with some of it. */
const said = [
  'TODO ask',
  'TBD',
  'Was it the left one??',
  'Geräusch vorne links – auch kalt?',
  '(nobody)',
  'Müller & Söhne',
  '2026-02-30',
  '7',
  'x: y',
  '"',
  "it's",
  'a # b',
];
const keys = ['number', 'plate', 'unit', 'vin', 'serial', 'customer', 'complaint', 'confirmed', 'promised', 'technician', 'checker'];
const more = [
  ...['odometer: 0 km', 'odometer: 99999999 km', 'odometer: 12 mi', 'road-test: 0 km', 'road-test: 5000 km', 'hours: 0 h', 'hours: 9 min'],
  ...['not-wanted: [TODO]', 'codes: { flywheel: TODO }', 'codes: { nothing: "1" }', 'features: { engine: { is: A9, by: "??" } }'],
  ...['access: [{ operation: clutch/none, factor: 9, reason: TODO }]', 'access: [{ operation: clutch/gearbox, factor: 99, reason: x }]'],
];

it('what is wrong with whose an order is, is told whether or not an alike order was looked at before', () => {
  const [, text = ''] = orders.find(([path]) => path.includes('2047')) ?? [];
  const [others = {}] = libraries;
  let count = 0;
  for (const key of keys) {
    const without = text.replace(new RegExp(`^${key}: .*\n`, 'm'), '');
    for (const value of [...said, ...said.map((one) => `"${one}"`)]) {
      const other = `${forAnother(without)}${key}: ${value}\n`;
      const alone = foundIn(others, other);
      count += alone.length;
      for (const first of [without, `${without}${key}: A1\n`]) expect(foundIn(others, other, first), `${key}: ${value}`).toEqual(alone);
    }
  }
  for (const line of more) {
    const without = text.replace(new RegExp(`^${line.replace(/:.*/, '')}: .*\\n`, 'm'), '');
    const other = `${forAnother(without)}${line}\n`;
    const alone = foundIn(others, other);
    count += alone.length;
    const [key] = line.split(':');
    const usual = { odometer: '100 km', 'road-test': '10 km', hours: '10 h', 'not-wanted': '[Wipers]', codes: '{ flywheel: "1" }' }[
      key ?? ''
    ];
    for (const first of [without, `${without}${key}: ${usual}\n`]) expect(foundIn(others, other, first), line).toEqual(alone);
  }
  expect(count).toBeGreaterThan(keys.length);
}, 120_000);

/** Any word of the orders, and what stands in none. */
const words = [
  ...orders
    .map(([, text]) => text)
    .join('\n')
    .matchAll(/\S+/g),
].map(([word]) => word);
words.push('TODO', '#', '- x', 'é', '0', '-1', '☃', '9999-99-99', 'null', '{}', '[]', '|', 'a: b', '9999999 km');
const edit = fc.record({ how: fc.constantFrom('word', 'insert', 'line', 'twice', 'value' as const), at: fc.nat(), other: fc.nat() });

/** An order with a word more or another, a line less or twice, or another value. */
function edited(text: string, { how, at, other }: typeof edit extends fc.Arbitrary<infer E> ? E : never): string {
  const lines = text.split('\n');
  const line = at % lines.length;
  const word = words[other % words.length] ?? '';
  const places = [...text.matchAll(/\S+/g)];
  const { 0: was = '', index = 0 } = places[at % places.length] ?? {};
  if (how === 'word') return `${text.slice(0, index)}${word}${text.slice(index + was.length)}`;
  if (how === 'insert') return `${text.slice(0, index)}${word} ${text.slice(index)}`;
  if (how === 'line') return lines.filter((_, n) => n !== line).join('\n');
  if (how === 'twice') return lines.flatMap((one, n) => (n === line ? [one, one] : [one])).join('\n');
  return lines.map((one, n) => (n === line ? one.replace(/: .*/, `: ${word}`) : one)).join('\n');
}

it('the same is found in any order, whether or not any other was looked at before', () => {
  let told = 0;
  fc.assert(
    fc.property(fc.nat(), edit, edit, (n, first, second) => {
      const [, text = ''] = orders[n % orders.length] ?? [];
      const other = edited(forAnother(text), second);
      for (const others of libraries) {
        const alone = foundIn(others, other);
        told += alone.length;
        for (const before of [text, edited(text, first)]) expect(foundIn(others, other, before), `${other}\n---\n${before}`).toEqual(alone);
      }
    }),
    { numRuns: Number(process.env.FUZZ ?? 40), seed: Number(process.env.SEED ?? 3) },
  );
  expect(told).toBeGreaterThan(0);
}, 3_600_000);

describe('what was found is known of orders that are alike', () => {
  const shop = { tools: { 'W-1': { due: '2027-03-01' }, 'W-2': { due: '2026-12-31' }, lift: {} } } as unknown as ShopDocument;
  const order = `kind: job\nid: a\nnumber: "1"\nvehicle: v\ndate: "2026-11-30"\nplate: AB 1\nodometer: 100 km\ncustomer: 'Depot'\nfeatures: { engine: { is: A1, by: Read. } }\nmeasured: { unit: 3 mm }\nwork: [w]\n`;
  const fileOf = (text: string, more: Partial<LibraryFile> = {}): LibraryFile => {
    const { document, findings } = readDocument({ path: 'jobs/x.yaml', text }, false);
    return { document, file: { path: text, text }, findings, ...more } as unknown as LibraryFile;
  };
  const finding = (path: string): Finding =>
    ({ rule: 'r', severity: 'error', message: '', span: { file: { path }, start: 0, end: 1 } }) as Finding;
  /** How often a list of orders is looked at. */
  function looks(files: readonly LibraryFile[], found: (file: LibraryFile) => readonly Finding[] = () => []) {
    const alike = new AlikeOrders({ shop });
    let count = 0;
    const answers = files.map((file) =>
      alike.foundIn(file, () => {
        count++;
        return { findings: found(file), asked: ['vehicle v'] };
      }),
    );
    return { count, answers };
  }
  const both = (other: string) => looks([fileOf(order), fileOf(other)]).count;

  it('whoever it is for, and whatever it has run', () => {
    expect(both(order.replace('id: a', 'id: "b"').replace('plate: AB 1', 'plate: CD 2').replace("'Depot'", 'Parks'))).toBe(1);
    expect(both(order.replace('100 km', '2345 km'))).toBe(1);
    expect(both(order.replace('"2026-11-30"', '2026-12-31'))).toBe(1);
    const late = order.replace('2026-11-30', '2027-01-01');
    expect(looks([fileOf(late), fileOf(late.replace('AB 1', 'CD 2')), fileOf(late.replace('01-01', '01-02'))]).count).toBe(2);
    expect(both(order.replaceAll('\n', '\r\n'))).toBe(1);
    expect(looks([fileOf(order), fileOf(order.replace('id: a', 'id: b'))]).answers.map(({ asked }) => asked)).toEqual([
      ['vehicle v'],
      ['vehicle v'],
    ]);
  });

  it.each([
    ["customer: 'Depot'", 'customer: &one Depot'],
    ["customer: 'Depot'", 'customer: "D\\u00e9p\\u00f4t"'],
    ["customer: 'Depot'", 'customer: Депо'],
    ["customer: 'Depot'", 'customer: >\n  Depot'],
    ['plate: AB 1', 'plate: AB 1 # a remark'],
    ['by: Read.', 'by: Told.'],
    ['vehicle: v', 'vehicle: "v"'],
  ])('however that is written: %j as %j', (from, to) => {
    expect(order).toContain(from);
    expect(both(order.replace(from, to))).toBe(1);
  });

  it.each([
    ['vehicle: v', 'vehicle: u'],
    ['work: [w]', 'work: [x]'],
    ['is: A1', 'is: A2'],
    // What is measured may be called as a key is.
    ['unit: 3 mm', 'unit: 4 mm'],
    ['100 km', '100 mi'],
    // A wrench is out of date by then; it is told with the day.
    ['date: "2026-11-30"', 'date: "2027-01-01"'],
    ['plate: AB 1\n', ''],
    // What cannot be read.
    ['date: "2026-11-30"', 'date: "2026-11-31x"'],
    ["customer: 'Depot'", "customer: Depot's: own"],
    ["customer: 'Depot'", 'customer: \'Depot"'],
  ])('but not with %j as %j', (from, to) => {
    expect(order).toContain(from);
    expect(both(order.replace(from, to))).toBe(2);
  });

  it('but not where something is told in the order itself, or could not be read', () => {
    const other = fileOf(order.replace('id: a', 'id: b'));
    const at = (path: (file: LibraryFile) => string) => looks([fileOf(order), other], (file) => [finding(path(file))]).count;
    expect(at(() => 'vehicles/v.yaml')).toBe(1);
    expect(at(({ file }) => file.path)).toBe(2);
    const behind = (file: LibraryFile): Finding => ({ ...finding('v.yaml'), related: [{ ...finding(file.file.path) }] });
    expect(looks([fileOf(order), other], (file) => [behind(file)]).count).toBe(2);
    const mended = (file: LibraryFile): Finding => ({
      ...finding('v.yaml'),
      fix: { title: '', edits: [{ span: finding(file.file.path).span, text: '' }] },
    });
    expect(looks([fileOf(order), other], (file) => [mended(file)]).count).toBe(2);
    expect(looks([fileOf(order, { findings: [finding('x')] }), other]).count).toBe(2);
    expect(looks([fileOf(order), { ...other, findings: [finding('x')] }]).count).toBe(2);
    expect(looks([fileOf(order), { ...other, document: { kind: 'vehicle' } } as unknown as LibraryFile]).count).toBe(2);
  });
});
