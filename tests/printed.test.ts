// What documents say to people stands on some paper: nothing that somebody wrote for the bay or the counter is lost on the way.
import { expect, it } from 'vitest';
import { papersOf } from '../src/emit/outputs.js';
import { baySheet } from '../src/layout/bay-sheet.js';
import { toolList } from '../src/layout/tool-list.js';
import type { SyntaxNode } from '../src/syntax/node.js';
import { parse } from '../src/syntax/parse.js';
import { measure, wordsOn } from './helpers/paper.js';
import { compiled, demoTexts, demoWith, found, libraryOf } from './helpers/shop.js';

/** Keys of what is said to people, wherever they stand; what `labour:` says is for the advisor, `params:` for who writes. */
const said = new Set([
  ...['says', 'why', 'where', 'warning', 'caution', 'danger', 'notice', 'until', 'fits', 'outside', 'discard-if', 'look'],
  ...['supplier', 'certificate', 'reason', 'checked', 'document', 'section', 'complaint', 'confirmed', 'tell', 'name', 'mass'],
]);
const forOthers =
  /\.(labour|params|items|offers|tools|parts|fasteners|waste|choices|temporaries|features)\.|^(parts|vehicle|shop)\.(name|mass)$/;
const alsoThere = /\.parts\.[\w-]+\.(fits|mass)$|\.tools\.[\w-]+\.certificate$|\.fasteners\..*\.(outside|discard-if)$/;

const plain = (text: string): string =>
  text
    .replace(/[\s\u00a0]+/g, ' ')
    .replace(/\.$/, '')
    .toLowerCase();

it('in the demo shop', () => {
  const texts = demoTexts();
  const library = libraryOf(texts);
  const papers: string[] = [];
  for (const id of library.jobs.keys())
    for (const { paper } of papersOf(compiled(library, id), measure, { format: 'pdf', workings: false, after: null }))
      papers.push(plain(wordsOn(paper)));
  const paper = papers.join(' ');
  const lost: string[] = [];
  let looked = 0;
  const look = (node: SyntaxNode, where: string, key: string): void => {
    if (node.kind === 'list') for (const item of node.items) look(item, where, key);
    else if (node.kind === 'map') for (const entry of node.entries) look(entry.value, `${where}.${entry.key}`, entry.key);
    else if (said.has(key) && (!forOthers.test(where) || alsoThere.test(where)) && typeof node.value === 'string') {
      looked++;
      if (!paper.includes(plain(node.value))) lost.push(`${where}: ${node.value}`);
    }
  };
  for (const [file, text] of Object.entries(texts)) {
    const { value } = parse({ path: file, text });
    if (value && file.startsWith('/shop/')) look(value, /^kind: (\w+)/m.exec(text)?.[1] ?? '', '');
  }
  expect(looked).toBeGreaterThan(400);
  expect(lost).toEqual([]);
});

it('the number of what has no identification number: whole to compare on page one, its end on every page', () => {
  const library = demoWith(['/shop/jobs/2042-hub-bearing.yaml', 'vin: BLTPN14A2MA300931', 'serial: LRN40-22-01931']);
  expect(found(library)).toEqual([]);
  const of = compiled(library, '2042-hub-bearing');
  const [sheet] = papersOf(of, measure, { format: 'pdf', workings: false, after: null });
  if (!sheet) throw new Error('no sheet');
  const words = wordsOn(sheet.paper);
  expect(words).toContain('serial number LRN40-22-01931');
  expect(words.split('serial no. …22-01931').length - 1).toBe(sheet.paper.pages.length + 1);
});

it('what the customer is told is in sentences, also where nobody ended them', () => {
  const job = compiled(
    demoWith([
      '/shop/procedures/receiver.yaml',
      '"Renew the receiver of the air conditioning, evacuate and charge it.", why: It was open to the air and holds no more water.',
      'Renew the receiver, why: It was open to the air',
    ]),
    '2049-receiver',
  );
  expect(job.work.map(({ what, why }) => `${what} ${why}`)).toEqual(['Renew the receiver. It was open to the air.']);
});

it('pieces of special tools are counted before the engine turns; where it does not, before the vehicle is released', () => {
  const before = (id: string) =>
    /come back: \d+\. Count them before ([^.]*)/.exec(wordsOn(toolList(compiled(libraryOf(demoTexts()), id), measure)))?.[1];
  expect(before('2041-head-gasket')).toBe('the engine is turned');
  expect(before('2049-receiver')).toBe('the vehicle is released');
});

it('a mass is printed in pounds as people write them, and read in either way', () => {
  const at = (mass: string) => {
    const job = compiled(demoWith(['/shop/vehicles/marn-20.yaml', 'mass: 14 kg', `mass: ${mass}`]), '2047-clutch');
    return job.steps.flatMap(({ masses }) => masses).find(({ name }) => name.includes('flywheel'))?.mass;
  };
  expect([at('31 lb'), at('31 lb(mass)'), at('500 oz(mass)'), at('14 kg')]).toEqual(['31 lb', '31 lb', '500 oz', '14 kg']);
});

it('old parts are shown where any are renewed', () => {
  const job = compiled(libraryOf(demoTexts()), '2052-hub-adjustment');
  const asked = (buy: typeof job.parts.buy) =>
    wordsOn(baySheet({ ...job, parts: { ...job.parts, buy } }, measure)).includes('old parts shown');
  expect([asked(job.parts.buy), asked([])]).toEqual([true, false]);
});
