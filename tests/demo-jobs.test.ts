// The other jobs of the demo, each with the numbers that were worked out by hand before it was computed.
import { describe, expect, it } from 'vitest';
import { Checker } from '../src/rules/checker.js';
import { checkFor, compileForPaper } from '../src/compile.js';
import type { Library } from '../src/library/library.js';
import { findingsOfJob } from '../src/job/compile-job.js';
import { D } from '../src/quantity/units.js';
import { judge, rowFor } from '../src/resolve/measure/judge.js';
import { parseQuantity, type Quantity } from '../src/quantity/quantity.js';
import { RuleContext } from '../src/rules/context.js';
import { Shared } from '../src/rules/shared.js';
import { contradictionsIn } from './helpers/consistent.js';
import { baySheet } from '../src/layout/bay-sheet.js';
import { fluidsSheet } from '../src/layout/fluids-sheet.js';
import { partsList } from '../src/layout/parts-list.js';
import { partsListCsv } from '../src/emit/csv/parts-list.js';
import { quotePaper } from '../src/layout/quote.js';
import { toolList } from '../src/layout/tool-list.js';
import { torqueCard } from '../src/layout/torque-card.js';
import { filesOfExample } from '../src/rules/example-library.js';
import { job as jobWith } from '../src/rules/examples.js';
import { measure, wordsOn } from './helpers/paper.js';
import { compiled, demoTexts, demoWith, found, libraryOf } from './helpers/shop.js';

const library = libraryOf(demoTexts());
const job = (id: string) => compiled(library, id);
const quantity = (text: string): Quantity => {
  const parsed = parseQuantity(text, 'any');
  if (!parsed.ok) throw new Error(text);
  return parsed.quantity;
};

it('nothing in a compiled job contradicts anything else in it', () => {
  expect(library.jobs.size).toBe(12);
  for (const id of library.jobs.keys()) expect(contradictionsIn(job(id)), id).toEqual([]);
});

it('the tool list has the instruments that are measured with, in their drawers where the shop has them', () => {
  const special = (id: string) => job(id).tools.special.map(({ name, drawer }) => [name, drawer]);
  // Called by its key with a space, by its name, and one that the shop's list does not have.
  expect(special('2052-hub-adjustment')).toContainEqual(['dial gauge with bridge', 'C1']);
  expect(special('2041-head-gasket')).toContainEqual(['straight edge and feeler gauges', 'C1']);
  expect(special('2045-front-brakes')).toContainEqual(['micrometer', null]);
});

it('what is drained and filled stands on paper in the unit of the shop’s jugs too; the factor is that of NIST HB 44, appendix C', () => {
  const inQuarts = compiled(demoWith(['/shop/shop.yaml', 'torque-unit: ', 'volume-unit: US qt\ntorque-unit: ']), '2041-head-gasket');
  const litres = job('2041-head-gasket');
  expect(litres.fluids.every((fluid) => fluid.inShopUnit === undefined)).toBe(true);
  expect(inQuarts.fluids.length).toBeGreaterThan(1);
  for (const { inShopUnit, ...fluid } of inQuarts.fluids) {
    expect(litres.fluids).toContainEqual(fluid);
    for (const key of ['capacity', 'drained', 'recovered', 'residue', 'pour'] as const) {
      expect(inShopUnit?.[key]).toMatch(/^\d+(\.\d+)? US qt$/);
      expect(Number.parseFloat(inShopUnit?.[key] ?? '')).toBeCloseTo(Number(fluid[key]) / 0.946352946, 1);
    }
  }
  for (const { tolerance, inShopUnit } of inQuarts.fluids)
    expect(inShopUnit?.tolerance?.match(/[\d.]+/g)?.map(Number)).toEqual(
      tolerance?.match(/[\d.]+/g)?.map((one) => expect.closeTo(Number(one) / 0.946352946, 1)),
    );
  const oil = inQuarts.fluids.find(({ mix }) => mix === null);
  const coolant = inQuarts.fluids.find(({ mix }) => mix !== null);
  const mixed = coolant?.inShopUnit;
  for (const key of ['concentrate', 'water'] as const)
    expect(Number.parseFloat(mixed?.[key] ?? '')).toBeCloseTo(Number(coolant?.mix?.[key]) / 0.946352946, 1);
  // The table of mixtures is in it too: what fills the circuit again, and brings it to its target by mass balance.
  const { capacity = '', table } = mixed ?? {};
  expect(table?.rows.length).toBeGreaterThan(4);
  for (const { drained, cells } of table?.rows ?? [])
    for (const [n, cell] of cells.entries()) {
      const [concentrate = 0, water = 0] = cell.split(' / ').map(Number);
      const [out, all, before] = [Number(drained), Number.parseFloat(capacity), Number(table?.strengths[n])];
      expect(concentrate + water).toBeCloseTo(out, 1);
      expect(((all - out) * before + concentrate * 100) / all).toBeCloseTo(Number(coolant?.mix?.target), 0);
    }
  // What is measured is written down in that unit.
  const units = (one: typeof litres) => wordsOn(baySheet(one, measure)).match(/F-0[1-4] (recovered|poured) (L|US qt)/g);
  expect(units(inQuarts)?.every((blank) => blank.endsWith(' US qt'))).toBe(true);
  expect(units(litres)?.every((blank) => blank.endsWith(' L'))).toBe(true);
  const words = wordsOn(baySheet(inQuarts, measure)).replaceAll('\u00a0', ' ');
  expect(words).toContain(`${oil?.inShopUnit?.drained} (${oil?.drained} L) expected`);
  expect(words).toContain(`${mixed?.water} (${Number(coolant?.mix?.water).toFixed(2)} L) water`);
  expect(words).toContain(`${table?.rows[1]?.drained} US qt ${table?.rows[1]?.cells[0]}`);
  expect(words).toContain('concentrate / water in US qt');
  expect(words).toContain(`out ${oil?.inShopUnit?.recovered} (${oil?.recovered} L)`);
});

it('what a profile writes in quarts stands alone in a shop with quarts, and beside the litres in another', () => {
  const profile = [
    '/shop/vehicles/marn-20.yaml',
    'capacity: 2.1 L\n    drains: [{ through: [gearbox-drain-plug], gives: 1.9 ±0.1 L }]',
    'capacity: 2.2 US qt\n    drains: [{ through: [gearbox-drain-plug], gives: 2 ±0.1 US qt }]',
  ] as const;
  const words = (...changes: readonly (readonly [string, string, string])[]) =>
    wordsOn(fluidsSheet(compiled(demoWith(profile, ...changes), '2047-clutch'), measure)).replaceAll('\u00a0', ' ');
  const quarts = words(['/shop/shop.yaml', 'torque-unit: ', 'volume-unit: US qt\ntorque-unit: ']);
  expect(quarts).toContain('Holds 2.2 US qt. Through gearbox drain plug 2 US qt come out (1.9 to 2.1 US qt); 0.2 US qt stay in.');
  expect(quarts).toContain('F-01 recovered US qt');
  // A quart is 0.946352946 L: NIST HB 44, appendix C.
  const litres = words();
  expect(litres).toContain(
    'Holds 2.08 L (2.2 US qt). Through gearbox drain plug 1.89 L (2 US qt) come out (1.8 to 1.99 L; 1.9 to 2.1 US qt)',
  );
  expect(litres).toContain('F-01 recovered L');
});

it('what is charged by mass stands on paper as the station of the shop shows it too; the factors are those of NIST HB 44, appendix C', () => {
  const unitsOf = (units: string) => compiled(demoWith(['/shop/shop.yaml', 'torque-unit: ', `${units}\ntorque-unit: `]), '2049-receiver');
  const grams = job('2049-receiver');
  expect(grams.charges.map(({ inShopUnit, oil }) => [inShopUnit, oil?.inShopUnit])).toEqual([[undefined, undefined]]);
  const [plain] = grams.charges;
  for (const [unit, gramsEach, places] of [
    ['oz', 28.349523125, 2],
    ['lb', 453.59237, 2],
    ['kg', 1000, 3],
  ] as const) {
    const one = unitsOf(`mass-unit: ${unit}`);
    const [charge] = one.charges;
    if (!charge || !plain) throw new Error('no charge');
    const { inShopUnit, ...others } = charge;
    expect(others).toEqual(plain);
    const numbers = (text: string | null | undefined) => text?.match(/-?[\d.]+/g)?.map(Number);
    const pairs = [
      [inShopUnit?.charge, charge.charge],
      [inShopUnit?.lost, charge.lost],
      [inShopUnit?.bottle, charge.bottle],
    ];
    for (const [said, inGrams] of pairs)
      expect(numbers(said)).toEqual(numbers(inGrams)?.map((value) => expect.closeTo(value / gramsEach, places - 0.3)));
    const words = wordsOn(baySheet(one, measure)).replaceAll('\u00a0', ' ');
    expect(words.match(/K-0[12] (recovered|charged) \S+/g)).toEqual([`K-01 recovered ${unit}`, `K-02 charged ${unit}`]);
    expect(words).toContain(`${inShopUnit?.charge}; ${charge.charge} when full`);
    expect(words).toContain(`Bottle ledger of this job: ${inShopUnit?.bottle} (${charge.bottle} g).`);
    const fluids = wordsOn(fluidsSheet(one, measure)).replaceAll('\u00a0', ' ');
    expect(fluids).toContain(`${inShopUnit?.lost} (${charge.lost}) were missing`);
    expect(fluids).toContain(`bottle after ${unit}`);
  }
  // Oil and waste go by the unit of the bottles: a US gallon is 3.785411784 L, and 128 fluid ounces.
  const inGallons = unitsOf('volume-unit: US gal');
  const oil = inGallons.charges[0]?.oil;
  for (const key of ['recovered', 'parts', 'total'] as const)
    expect(Number.parseFloat(oil?.inShopUnit?.[key] ?? '')).toBeCloseTo(Number(oil?.[key]) / 29.5735295625, 1.7);
  expect(unitsOf('volume-unit: imp gal').charges[0]?.oil?.inShopUnit).toBeUndefined();
  const wasteOf = compiled(demoWith(['/shop/shop.yaml', 'torque-unit: ', 'volume-unit: US gal\ntorque-unit: ']), '2041-head-gasket');
  const inLitres = wasteOf.waste.filter(({ unit }) => unit === 'L');
  expect(inLitres.length).toBeGreaterThan(1);
  for (const { amount, inShopUnit } of inLitres) expect(Number.parseFloat(inShopUnit ?? '')).toBeCloseTo(Number(amount) / 3.785411784, 1.7);
  expect(wasteOf.waste.filter(({ unit, inShopUnit }) => unit !== 'L' && inShopUnit !== undefined)).toEqual([]);
  // The fee may be for one of them: as many gallons, and no litres beside them.
  const perGallon = demoWith(['/shop/shop.yaml', 'fee: 0.20, per: L', 'fee: 0.80, per: US gal']);
  expect(found(perGallon).filter(({ rule }) => rule === 'price/waste-unit')).toEqual([]);
  const used = (one: typeof grams) => one.waste.find((waste) => waste.class === 'used-oil');
  const [gallons, litres] = [used(compiled(perGallon, '2041-head-gasket')), used(job('2041-head-gasket'))];
  expect([gallons?.unit, gallons?.inShopUnit]).toEqual(['US gal', undefined]);
  expect(Number(gallons?.amount)).toBeCloseTo(Number(litres?.amount) / 3.785411784, 1.7);
  expect(Number(gallons?.fee)).toBeCloseTo((0.8 * Number(litres?.amount)) / 3.785411784, 1.7);
  expect(wordsOn(baySheet(wasteOf, measure)).replaceAll('\u00a0', ' ')).toContain(`${inLitres[0]?.inShopUnit} (${inLitres[0]?.amount} L)`);
});

it('a machine is read by its hour meter: on the first page, the quote and where something falls due', () => {
  const order = '/shop/jobs/2043-gearbox-fluid.yaml';
  const follow = [
    '/shop/procedures/gearbox-fluid.yaml',
    'follow-up:\n',
    'follow-up:\n  - { what: gearbox oil again, after: 50 h }\n',
  ] as const;
  const [driven = ''] = /^odometer: .*$/m.exec(demoTexts()[order] ?? '') ?? [];
  expect(driven).not.toBe('');
  const of = (meters: string) => {
    const one = compiled(demoWith([order, driven, meters], follow), '2043-gearbox-fluid');
    return { one, sheet: wordsOn(baySheet(one, measure)), quote: wordsOn(quotePaper(one, measure)) };
  };
  const hours = of('hours: 4310 h');
  expect(hours.sheet).toMatch(/hour meter 4310 h.*hour meter out h/s);
  expect(hours.sheet).not.toContain('odometer out');
  expect(hours.quote).toContain('4310 h');
  expect(hours.one.followUps.map(({ due }) => due)).toContain('at 4360 h');
  const both = of(`${driven}\nhours: 4310 h`);
  expect(both.sheet).toMatch(/odometer out.*hour meter out/s);
  const none = of(driven);
  expect(none.sheet).not.toContain('hour meter');
  expect(none.one.followUps.map(({ due }) => due)).toContainEqual(expect.stringMatching(/^after 50 h/));
});

it('what is held against a joint may be a tool of the shop, or a spanner or key by its size', () => {
  const marn = '/shop/vehicles/marn-20.yaml';
  const held = (by: string) => demoWith([marn, 'counter-hold: flywheel-lock', `counter-hold: ${by}`]);
  const { joints, tools } = compiled(held('19 AF open'), '2047-clutch');
  expect(found(held('19 AF open'))).toEqual([]);
  expect(joints.find(({ group }) => group === 'flywheel-bolts')?.counterHold).toBe('19 AF open');
  expect(tools.drives).toContain('19 AF open');
  expect(tools.special.map(({ id }) => id)).not.toContain('19 AF open');
  const inGerman = demoWith(
    [marn, 'counter-hold: flywheel-lock', 'counter-hold: 19 AF open'],
    ['/shop/shop.yaml', 'kind: shop\n', 'kind: shop\nlanguage: de\n'],
  );
  expect(compiled(inGerman, '2047-clutch').joints.find(({ group }) => group === 'flywheel-bolts')?.counterHold).toBe('SW 19 offen');
  expect(found(held('19 AFF'))).toEqual([expect.objectContaining({ rule: 'reference/unknown-tool' })]);
});

it('what decides at the vehicle stands on the sheet: order and passes of loosening, what is used, how fine to read, when it was built', () => {
  const flagship = job('2041-head-gasket');
  expect(flagship.vehicle.built).toBe('2018 to 2024');
  expect(flagship.steps.flatMap((step) => step.loosening ?? [])).toEqual([{ order: 'reverse', passes: 3, joints: ['T-01'] }]);
  expect(flagship.measurements.find((one) => one.id === 'head-flatness')?.resolution).toBe('0.01 mm');
  const words = (id: string) => wordsOn(baySheet(job(id), measure));
  expect(words('2041-head-gasket')).toMatch(/in the reverse of the order of T-01 · in 3 passes/);
  expect(words('2041-head-gasket')).toMatch(/straight edge and feeler gauges \(0\.01 mm\)/);
  expect(words('2041-head-gasket')).toMatch(/built 2018 to 2024/);
  expect(words('2045-front-brakes')).toMatch(/with silicone grease/);
});

it('of several taxes each is named on the quote; what might be needed stands on the parts list, and is not ordered', () => {
  const two = demoWith([
    '/shop/shop.yaml',
    'tax: standard\n',
    'tax: standard\nfurther-taxes: { regional: { rate: 7 %, on: [standard] } }\n',
  ]);
  const taxes = (one: Library) => wordsOn(quotePaper(compiled(one, '2041-head-gasket'), measure)).match(/Tax [a-z\d ]*% on/g);
  expect(taxes(two)).toEqual(['Tax standard 20 % on', 'Tax regional 7 % on']);
  expect(taxes(library)).toEqual(['Tax 20 % on']);
  const might = demoWith([
    '/shop/procedures/head-gasket.yaml',
    '    sublet: head-skim\n',
    '    sublet: head-skim\n    items: { head-bolt: 10 }\n',
  ]);
  const list = wordsOn(partsList(compiled(might, '2041-head-gasket'), measure));
  expect(list).toMatch(/Might be needed: not ordered item pieces if cylinder-head bolt 10 the cylinder head is warped/);
  expect(wordsOn(partsList(job('2047-clutch'), measure))).not.toContain('Might be needed');
});

it('a joint that must cure, and other fluids that may be used', () => {
  const changed = demoWith(
    [
      '/shop/vehicles/tarrock-35.yaml',
      'thread: M8x1.25, class: "8.8", drive: 13 AF, reuse: always, threads: dry',
      'thread: M8x1.25, class: "8.8", drive: 13 AF, reuse: always, threads: threadlocker, cure: 30 min',
    ],
    ['/shop/vehicles/tarrock-35.yaml', '    capacity: 9.6 L\n', '    capacity: 9.6 L\n    accepted: [S-2, S-3]\n'],
  );
  const one = compiled(changed, '2041-head-gasket');
  expect(one.joints.flatMap((joint) => joint.cure ?? [])).toContain('30 min');
  expect(one.fluids.map((fluid) => fluid.accepted)).toContainEqual(['S-2', 'S-3']);
  const sheet = wordsOn(baySheet(one, measure));
  expect(sheet).toMatch(/Under load only after 30 min\./);
  expect(sheet).toMatch(/S-2 and S-3 may be used as well\./);
});

it('the tool list names the certificate of each torque tool', () => {
  expect(wordsOn(toolList(job('2045-front-brakes'), measure))).toMatch(/TW-2 20 to 100 N·m 2 Mar 2027, C-1108/);
});

it('which way round a part goes stands where it goes on', () => {
  const clutch = job('2047-clutch');
  expect(clutch.steps.filter(({ fits }) => fits.length > 0).map(({ verb, fits }) => [verb, fits])).toEqual([
    ['fit', [{ name: 'dual-mass flywheel', way: 'Dowel in its hole.' }]],
    ['fit', [{ name: 'clutch disc', way: 'Spring cage to the gearbox; the words “gearbox side” show.' }]],
  ]);
  expect(wordsOn(baySheet(clutch, measure))).toContain('THIS WAY ROUND: Spring cage to the gearbox; the words “gearbox side” show.');
  expect(wordsOn(baySheet(job('2041-head-gasket'), measure))).toMatch(/Renew camshaft seal: old out, new in THIS WAY ROUND: Lip inwards\./);
  const both = compiled(
    demoWith(['/shop/procedures/clutch.yaml', '- fit: clutch-disc\n', '- fit: [clutch-disc, flywheel]\n']),
    '2047-clutch',
  );
  expect(wordsOn(baySheet(both, measure))).toContain('THIS WAY ROUND, clutch disc: Spring cage to the gearbox');
});

it('what a joint is held with stands where it is undone, as where it is tightened', () => {
  const { steps } = job('2047-clutch');
  expect(steps.flatMap(({ verb, counterHold }) => counterHold.map((one) => [verb, one]))).toEqual([['remove', 'flywheel locking tool']]);
  expect(wordsOn(baySheet(job('2047-clutch'), measure))).toMatch(/Remove dual-mass flywheel .{0,80}counter-hold: flywheel locking tool/);
});

it('what is lifted off or on says what it weighs', () => {
  const clutch = job('2047-clutch');
  expect(clutch.steps.flatMap(({ verb, masses }) => masses.map(({ mass }) => `${verb} ${mass}`))).toEqual([
    ...['remove 52 kg', 'remove 14 kg', 'fit 14 kg', 'fit 52 kg'],
  ]);
  expect(wordsOn(baySheet(clutch, measure))).toMatch(/Remove dual-mass flywheel dual-mass flywheel: fitted at step 23 · weighs 14 kg/);
});

it('what the profile, fluids and readings come from is cited, with who checked it', () => {
  const sheet = wordsOn(baySheet(job('2041-head-gasket'), measure));
  expect(sheet).toContain('Tarrock workshop book, edition 2023-04, checked by F. Oduya: Halvorn Tarrock 35 fleet van (profile rev. 7)');
  expect(sheet).toContain('Renew the cylinder-head gasket (rev. 9, checked by F2, 14 Sept 2026)');
  expect(sheet).toContain('Tarrock workshop book, section 26-01: coolant');
  const code = job('2047-clutch').measurements[0]?.code;
  const own = compiled(
    demoWith(['/shop/vehicles/marn-20.yaml', 'code: M-01,', 'code: M-01, source: { document: Bulletin 7 },']),
    '2047-clutch',
  );
  expect(wordsOn(baySheet(own, measure))).toContain(`Bulletin 7: ${code}`);
});

it('why an operation takes longer is on the quote, who supplies on the parts list', () => {
  const head = job('2041-head-gasket');
  expect(wordsOn(quotePaper(head, measure))).toContain(
    'Included is more time than usual on this vehicle, because of: exhaust fasteners corroded.',
  );
  expect(wordsOn(quotePaper(job('2042-hub-bearing'), measure))).not.toContain('more time than usual');
  expect(wordsOn(partsList(head, measure))).toContain('All from Central stores.');
  expect(partsListCsv(head)).toMatch(/,deposit,supplier\r\n/);
  expect(partsListCsv(head).split('\r\n')[1]).toMatch(/,Central stores$/);
  const [offer] = head.parts.buy;
  const other = {
    ...head,
    parts: { ...head.parts, buy: head.parts.buy.map((one) => (one === offer ? { ...one, supplier: 'Quay Motors' } : one)) },
  };
  const words = wordsOn(partsList(other, measure));
  expect(words).toContain(`${offer?.name} from Quay Motors`);
  expect(words).toContain('from Central stores');
});

it('how far the order says stands at the road test that ends the job', () => {
  expect(wordsOn(baySheet(job('2045-front-brakes'), measure))).toContain('Road test, 15 km');
  const unsaid = compiled(demoWith(['/shop/jobs/2045-front-brakes.yaml', 'road-test: 15 km\n', '']), '2045-front-brakes');
  expect(unsaid.steps.filter(({ verb }) => verb === 'drive').map(({ sentence }) => sentence)).toEqual(['Road test']);
});

it('hub bearing: the axle nut is one-use, two stages, written in lbf·ft, and on the ground', () => {
  const nut = job('2042-hub-bearing').joints.find((joint) => joint.group === 'axle-nut-thread');
  expect([nut?.count, nut?.renew, nut?.stages.map((stage) => stage.onGround)]).toEqual([1, true, [true, true]]);
  expect(nut?.stages[0]).toMatchObject({ written: '74 lbf·ft', value: '100.3 N·m' });
  // Where the scale of the wrench is in the unit in which it was written, that is set, and the shop's stands beside it.
  const scale = 'range: 60..300 N·m, length: 550 mm';
  const inPounds = compiled(demoWith(['/shop/shop.yaml', scale, 'range: 45..220 lbf·ft, length: 550 mm']), '2042-hub-bearing');
  const set = inPounds.joints.find((joint) => joint.group === 'axle-nut-thread')?.stages[0];
  expect(set).toMatchObject({ written: '74 lbf·ft', value: '74 lbf·ft', other: '100.3 N·m', tool: 'TW-3' });
  const air = found(
    demoWith([
      '/shop/procedures/hub-bearing.yaml',
      '    - tighten: axle-nut\n      wheels: on-ground\n',
      '    - tighten: axle-nut\n      stages: [1, 2]\n',
    ]),
  );
  expect(air.map((one) => one.rule)).toContain('torque/on-the-ground');
});

describe('pinion seal', () => {
  const nut = job('2044-pinion-seal').joints.find((joint) => joint.group === 'pinion-nut-thread');
  it('a ladder of 14 rows from 180 to 375 N·m by 15; row 8 is 285 N·m', () => {
    const { ladder, tool } = nut?.stages[0] ?? {};
    expect(ladder?.torques).toHaveLength(14);
    expect([ladder?.torques[0], ladder?.torques[7], ladder?.torques[13]]).toEqual(['180 N·m', '285 N·m', '375 N·m']);
    expect(ladder?.limit).toBe('1.7 to 2.3 N·m');
    expect(tool).toBe('TW-4');
    // Second witness: 180 + 15·(n − 1).
    expect(ladder?.torques.map((text) => Number.parseFloat(text))).toEqual(Array.from({ length: 14 }, (_, n) => 180 + 15 * n));
  });
  it('a reading of 1.9 N·m ends it; a nut that was backed off is thrown away', () => {
    expect(judge([quantity('1.9 N·m')], undefined, quantity('1.7..2.3 N·m'), null).inside).toBe(true);
    expect(nut?.stages[0]?.outside).toMatch(/new crush sleeve/i);
    expect(nut?.discardIf).toMatch(/turned back/);
  });
  it('three shims out, three in', () => {
    const wrong = found(
      demoWith(['/shop/procedures/pinion-seal.yaml', '  - fit: pinion-shims\n    count: 3', '  - fit: pinion-shims\n    count: 2']),
    );
    expect(wrong.map((one) => one.rule)).toEqual(['ledger/count-differs']);
  });
});

it('gearbox fluid in partial changes: 44.74, 69.46, 83.12, 90.67 %; four changes, 13.6 L', () => {
  expect(job('2043-gearbox-fluid').fluids[0]).toMatchObject({ rounds: 4, shares: ['44.74', '69.46', '83.12', '90.67'], pour: '13.6' });
});

describe('front brakes', () => {
  it('eight points: the smallest passes 23.5 mm, their variation of 0.02 mm fails 0.015 mm', () => {
    const disc = job('2045-front-brakes').measurements.find((one) => one.code === 'M-01');
    expect(disc?.verdict).toBe('24.11 mm passes min 23.5 mm; they differ by 0.02 mm, which FAILS 0.015 mm');
    const readings = ['24.12 mm', '24.11 mm', '24.12 mm', '24.13 mm', '24.12 mm', '24.11 mm', '24.12 mm', '24.12 mm'].map(quantity);
    const judged = judge(readings, 'min', quantity('min 23.5 mm'), quantity('0.015 mm'));
    expect([judged.value.toString(), judged.inside, judged.spread.toString(), judged.spreadInside]).toEqual(['24.11', true, '0.02', false]);
  });
  it('mean, largest and difference of readings, inclusive at the limit', () => {
    const two = [quantity('0.68 mm'), quantity('0.70 mm')];
    expect(judge(two, 'mean', quantity('max 0.69 mm'), null)).toMatchObject({ inside: true });
    expect(judge(two, 'max', quantity('max 0.69 mm'), null).inside).toBe(false);
    expect(judge(two, 'difference', quantity('max 0.02 mm'), null).inside).toBe(true);
  });
});

it('head gasket: the largest mean protrusion, 0.715 mm, chooses grade 2; 0.90 mm lies outside the table', () => {
  const table = [
    ['0.55 mm', '0.65 mm', 'G1'],
    ['0.65 mm', '0.75 mm', 'G2'],
    ['0.75 mm', '0.85 mm', 'G3'],
  ].map(([over = '', to = '', gives = '']) => ({ over: quantity(over), to: quantity(to), gives }));
  const means = [
    ['0.68', '0.70'],
    ['0.71', '0.72'],
    ['0.69', '0.69'],
    ['0.66', '0.70'],
  ].map(
    (pair) =>
      judge(
        pair.map((text) => quantity(`${text} mm`)),
        'mean',
        null,
        null,
      ).value,
  );
  expect(means.map(String)).toEqual(['0.69', '0.715', '0.69', '0.68']);
  const { unit } = quantity('1 mm');
  expect(rowFor(table, D.max(...means), unit)?.gives).toBe('G2');
  expect(rowFor(table, new D('0.90'), unit)).toBeNull();
  expect(rowFor(table, new D('0.65'), unit)?.gives).toBe('G1');
});

describe('timing belt and coolant pump', () => {
  const belt = job('2046-timing-belt');
  it('3.3 h and 4.3 h apart, 4.5 h together: 3.1 h saved', () => {
    expect(belt.labour).toMatchObject({ apart: '7.6', together: '4.5', billed: '4.5', alone: [{ hours: '3.3' }, { hours: '4.3' }] });
    expect(belt.quote.saved.hours).toBe('3.1');
  });
  it('the superseded mount is not bought; its successor brings its three nuts', () => {
    const bought = Object.fromEntries(belt.parts.buy.map((one) => [one.number, one.count]));
    expect(bought).toMatchObject({ 'ON-1103-B': 1, 'ON-1105': 3 });
    expect(bought).not.toHaveProperty('ON-1103');
    const four = compiled(demoWith(['/shop/jobs/2046-timing-belt.yaml', 'is: "3"', 'is: "4"']), '2046-timing-belt');
    expect(Object.fromEntries(four.parts.buy.map((one) => [one.number, one.count]))).toMatchObject({ 'ON-1104': 1, 'ON-1105': 4 });
    expect(four.joints.find((joint) => joint.group === 'mount-nuts')?.count).toBe(4);
  });
  it('the number of studs must be pinned at the vehicle', () => {
    const open = found(
      demoWith([
        '/shop/jobs/2046-timing-belt.yaml',
        '  mount-studs: { is: "3", by: Three studs counted from above. }\n',
        '  x: { is: "1", by: y }\n',
      ]),
    );
    expect(open.map((one) => one.rule)).toContain('variant/not-pinned');
  });
  it('the other way is priced beside it', () => {
    expect(belt.quote.alternatives).toHaveLength(1);
    expect(belt.quote.alternatives[0]).toMatchObject({
      hours: '3.3',
      difference: new D(belt.quote.alternatives[0]?.gross ?? 0).minus(belt.quote.gross).toFixed(2),
    });
  });
  describe('what only the other way needs', () => {
    const order = '/shop/jobs/2046-timing-belt.yaml';
    const look = (body: string, labour = 'labour: { look: { time: 1 h } }\n') =>
      `kind: procedure\nid: look\nname: Look behind the cover\nfor: sillane-16\n${labour}${body}`;
    const inspect = 'steps:\n  - inspect: leaks\n';
    const rust = (operation: string) => `access: [{ operation: ${operation}, factor: 1.2, reason: rust }]\nalternatives:\n`;
    /** The demo with a procedure that only the other way has. */
    const withOther = (procedure: string, ...changes: readonly (readonly [string, string])[]) => {
      const texts: Record<string, string> = { ...demoTexts(), '/shop/procedures/look.yaml': procedure };
      for (const [from, to] of [['work: [sillane-timing-belt], renew', 'work: [sillane-timing-belt, look], renew'], ...changes] as const) {
        expect(texts[order]).toContain(from);
        texts[order] = (texts[order] ?? '').replace(from, to);
      }
      return libraryOf(texts);
    };
    /** Rules of what stops its paper. */
    const stopping = (library: Library): string[] => {
      const one = library.jobs.get('2046-timing-belt');
      if (!one) throw new Error('the demo has no such job');
      const { value, findings } = compileForPaper(library, one, checkFor(library, [one], new Checker())(one), {
        draft: false,
        drawn: true,
      });
      const errors = findings.filter(({ severity }) => severity === 'error').map(({ rule }) => rule);
      expect(value === null).toBe(errors.length > 0);
      return errors;
    };
    const priced = (library: Library) => compiled(library, '2046-timing-belt').quote.alternatives[0];

    it('is told, as its price would lack it, and stops the quote', () => {
      const timed = withOther(look(inspect));
      expect([found(timed), stopping(timed)]).toEqual([[], []]);
      expect(priced(timed)?.hours).toBe('4.3');
      const unsold = withOther(look(`parts: { lamp: { name: lamp, item: lamp } }\nrenew: [lamp]\nsteps:\n  - renew: lamp\n`));
      expect(found(unsold).map(({ rule, place }) => `${rule} ${place}`)).toEqual(['parts/unknown-item procedures/look.yaml:6']);
      expect(stopping(unsold)).toEqual(['parts/unknown-item']);
    });
    it('is looked at when its quote is made: an error in its procedure stops it', () => {
      const open = withOther(look('steps:\n  - loosen: wheel-bolts\n'));
      expect(found(open).map(({ rule, place }) => `${rule} ${place}`)).toEqual(['ledger/left-open procedures/look.yaml:7']);
      expect(stopping(open)).toEqual(['ledger/left-open']);
    });
    it('may have time of its own for what is hard to reach; what no way has is told', () => {
      const timed = look(inspect);
      const hard = withOther(timed, ['alternatives:\n', rust('look/look')]);
      expect([found(hard), priced(hard)?.hours]).toEqual([[], '4.5']);
      const slip = withOther(timed, ['alternatives:\n', rust('look/lok')]);
      expect(found(slip).map(({ rule, message }) => [rule, message.includes('Did you mean `look/look`?')])).toEqual([
        ['labour/unknown-operation', true],
      ]);
    });
    it('is told once where the job says it too', () => {
      const unsold = demoWith(['/shop/parts/sillane.yaml', 'contains: { damper-bolt: 1 }', 'contains: { mount-nut: 1 }']);
      expect(found(unsold).filter(({ rule }) => rule === 'parts/no-offer')).toHaveLength(1);
    });
    it('says for which vehicle a procedure is meant that says none itself', () => {
      const plain = withOther(look('steps:\n  - inspect: leaks\n  - remove: timing-shroud\n').replace('for: sillane-16\n', ''));
      expect(found(plain).map(({ rule, place }) => `${rule} ${place}`)).toEqual(['reference/unknown-name procedures/look.yaml:7']);
    });
  });
});

describe('clutch', () => {
  const clutch = job('2047-clutch');
  it('230 min alone, 150 min with two, which is the critical path', () => {
    expect(clutch.labour.schedule).toMatchObject({ technicians: 2, length: 150, alone: 230, critical: 150, proven: true });
    // 205 person-minutes of hands on.
    expect(clutch.labour.billed).toBe('3.4167');
  });
  it('eight new flywheel bolts with torque and angle, the cover in three rounds crosswise', () => {
    const bolts = clutch.joints.find((joint) => joint.group === 'flywheel-bolts');
    expect([bolts?.count, bolts?.renew, bolts?.stages.map((stage) => stage.value)]).toEqual([8, true, ['60 N·m', '50°']]);
    const cover = clutch.joints.find((joint) => joint.group === 'cover-bolts');
    expect(cover?.sequence.slice(0, 2)).toEqual([1, 4]);
  });
  it('the mandrel left in is found, with the gearbox that it endangers', () => {
    const left = found(demoWith(['/shop/procedures/clutch.yaml', '  - clear: clutch-mandrel\n', '']));
    expect(left.map((one) => one.rule)).toEqual(['ledger/temporary-left-in']);
    expect(left[0]?.related.join()).toMatch(/fit: gearbox/);
  });
});

describe('automatic gearbox', () => {
  it('9.2 L, 5.1 L drained: 55.4 % new', () => {
    expect(job('2048-gearbox-service').fluids[0]?.shares).toEqual(['55.43']);
  });
  it('a level check outside 35 to 45 °C is found', () => {
    const wrong = found(demoWith(['/shop/procedures/automatic-gearbox-service.yaml', '      at: 35..45 °C', '      at: 20..45 °C']));
    expect(wrong.map((one) => one.rule)).toEqual(['fluid/level-condition']);
  });
  it('three magnets out, three in; twenty bolts in a spiral', () => {
    const wrong = found(
      demoWith([
        '/shop/procedures/automatic-gearbox-service.yaml',
        '  - fit: pan-magnets\n    count: 3',
        '  - fit: pan-magnets\n    count: 2',
      ]),
    );
    expect(wrong.map((one) => one.rule)).toEqual(['ledger/count-differs']);
    expect(job('2048-gearbox-service').joints.find((joint) => joint.group === 'pan-bolts')?.sequence).toHaveLength(20);
  });
});

describe('what is tightened to no torque', () => {
  const profile = '/shop/vehicles/tarrock-35.yaml';
  const cap = 'count: 1, thread: M62x2, drive: 32 AF, reuse: always, threads: oiled, stages: [{ torque: 25 N·m }] }';
  const jointOf = (library: Library) => compiled(library, '2041-head-gasket').joints.find((joint) => joint.group === 'oil-filter-cap');

  it('a filter is turned from contact, as its book says: no torque, no gauge, no thread to tell, and no bolt to be stretched', () => {
    const turned = demoWith(
      [profile, cap, 'count: 1, stages: [{ by-hand: 2 }, { angle: 3/4 turn }] }'],
      ['/shop/shop.yaml', '  angle-gauge: {', '  angle-meter: {'],
    );
    expect(found(turned)).toEqual([]);
    expect(jointOf(turned)?.stages.map(({ kind, value, other, tool }) => [kind, value, other, tool])).toEqual([
      ['by-hand', '2 turns by hand', null, null],
      ['from-contact', '270° from contact', '¾ turn', 'paint mark'],
    ]);
    expect([...contradictionsIn(compiled(turned, '2041-head-gasket'))]).toEqual([]);
    const words = wordsOn(baySheet(compiled(turned, '2041-head-gasket'), measure));
    expect(words).toMatch(/oil-filter cap 1 × 1\. 2 turns by hand .*2\. 270° from contact/);
    const card = wordsOn(torqueCard(compiled(turned, '2041-head-gasket'), measure));
    expect(card).toMatch(/2 turns by hand · 270° from contact/);
    expect(card).not.toContain('+270°');
  });

  it('a bolt with a class that no torque comes before is asked about', () => {
    const stages = (written: string) =>
      found(
        demoWith([
          profile,
          cap,
          `count: 1, thread: M8, class: "10.9", drive: 13 AF, reuse: never, item: oil-filter, threads: dry, stages: [${written}] }`,
        ]),
      );
    expect(stages('{ angle: 90 deg }').map((one) => one.message)).toEqual([
      '`oil-filter-cap` of class 10.9 is turned by 90 deg from where it touches; no torque comes before. Is a stage `{ torque: … }` missing?',
    ]);
    expect(stages('{ torque: 20 N·m }, { angle: 90 deg }')).toEqual([]);
  });

  it('a turn back may be written in turns too', () => {
    const turned = demoWith([
      profile,
      cap,
      'count: 1, thread: M62x2, drive: 32 AF, reuse: always, threads: oiled, stages: [{ torque: 25 N·m }, { back-off: 1/3 turn }] }',
    ]);
    expect(jointOf(turned)?.stages.map((stage) => stage.value)).toEqual(['25 N·m', '120° back']);
  });

  it('what is closed by hand has a box for each piece, and says so on sheet and card', () => {
    const byHand = demoWith([profile, cap, 'count: 2, reuse: always, method: hand }']);
    expect(found(byHand)).toEqual([]);
    const printed = compiled(byHand, '2041-head-gasket');
    const joint = jointOf(byHand);
    expect(joint?.stages).toMatchObject([{ n: 1, kind: 'method', value: 'by hand', boxes: 2 }]);
    const step = printed.steps.find((one) => one.torque.some(({ joint: code }) => code === joint?.code));
    expect(step?.torque).toEqual([{ joint: joint?.code, stages: [1] }]);
    for (const paper of [baySheet(printed, measure), torqueCard(printed, measure)]) expect(wordsOn(paper)).toContain('by hand');
    expect([...contradictionsIn(printed)]).toEqual([]);
  });
});

describe('hub adjustment', () => {
  it('20° on a pitch of 1.5 mm leaves 0.083 mm, inside 0.03 to 0.13', () => {
    const nut = job('2052-hub-adjustment').joints.find((joint) => joint.group === 'adjusting-nut-right');
    expect(nut?.endPlay).toBe('0.083 mm (0.03 to 0.13 mm)');
    expect((20 / 360) * 1.5).toBeCloseTo(0.0833, 4);
    expect([nut?.leftHand, nut?.stages[0]?.rotate]).toEqual([true, 5]);
    // In the unit of its limit: 0.08333 mm is 0.00328 in.
    const inches = compiled(
      demoWith(['/shop/vehicles/tolland-18.yaml', 'end-play: 0.03..0.13 mm', 'end-play: 0.001..0.005 in']),
      '2052-hub-adjustment',
    );
    expect(inches.joints.find((joint) => joint.group === 'adjusting-nut-left')?.endPlay).toBe('0.0033 in (0.001 to 0.005 in)');
  });
  it('a left-hand thread is told where it is undone, and not where it is a usual one', () => {
    const { steps } = job('2052-hub-adjustment');
    const told = steps.flatMap(({ verb, objects, leftHand }) => (leftHand.length > 0 ? [[verb, ...objects.map(({ id }) => id)]] : []));
    expect(told).toEqual([['loosen', 'adjusting-nut-right']]);
    const sheet = wordsOn(baySheet(job('2052-hub-adjustment'), measure));
    expect(sheet.match(/comes loose clockwise/g)).toHaveLength(1);
    expect(sheet).toContain('Loosen right bearing adjusting nut LEFT-HAND THREAD, comes loose clockwise ↻.');
    const others = compiled(
      demoWith([
        '/shop/procedures/hub-bearing-adjustment.yaml',
        'loosen: adjusting-nut-right',
        'loosen: [adjusting-nut-right, adjusting-nut-left]',
      ]),
      '2052-hub-adjustment',
    );
    expect(wordsOn(baySheet(others, measure))).toContain('LEFT-HAND THREAD, comes loose clockwise ↻: right bearing adjusting nut');
  });
  it('where the nut is turned on again after the back-off, its angle says nothing of the end play', () => {
    const stages = (more: string) =>
      found(demoWith(['/shop/vehicles/tolland-18.yaml', 'back-off: 20 ±2 deg }', `back-off: 90 deg }\n      - ${more}`]));
    expect(stages('{ by-hand: 1 }')).toEqual([]);
    expect(stages('{ torque: 10 N·m }').filter((one) => one.rule === 'torque/back-off-end-play')).toEqual([]);
    expect(stages('{ wait: 1 min }').map((one) => one.rule)).toEqual(['torque/back-off-end-play']);
  });

  it('a quarter turn, 0.375 mm, contradicts the end-play limit', () => {
    const wrong = found(demoWith(['/shop/vehicles/tolland-18.yaml', 'back-off: 20 ±2 deg', 'back-off: 90 deg']));
    expect(wrong.map((one) => one.rule)).toEqual(['torque/back-off-end-play']);
    expect(wrong[0]?.message).toMatch(/0\.375 mm.*contradicts the end-play limit/);
  });
  it('ten wheel nuts crosswise, 600 N·m on the ground, again after 50 km', () => {
    const truck = job('2052-hub-adjustment');
    const nuts = truck.joints.find((joint) => joint.group === 'wheel-nuts');
    expect([nuts?.count, nuts?.stages.map((stage) => stage.tool)]).toEqual([10, ['TW-3', 'TW-4', 'TW-4']]);
    expect(truck.followUps.filter((one) => one.due === 'at 226602 km')).toHaveLength(2);
  });
});

describe('air conditioning', () => {
  const receiver = job('2049-receiver');
  it('540 g less 410 g: 130 g lost, 24.1 %; the bottle gives 130 g; 12 + 20 = 32 mL of oil', () => {
    expect(receiver.charges[0]).toMatchObject({
      charge: '540 g (525 to 555 g)',
      recovered: '410 g',
      lost: '130 g',
      lostShare: '24.1',
      bottle: '-130',
      oil: { recovered: '12', parts: '20', total: '32' },
    });
    // Second witness: (540 − 410) / 540.
    expect(((540 - 410) / 540) * 100).toBeCloseTo(24.07, 2);
    // Of the oil 32 of 250 mL: 16.50 × 32 / 250 = 2.112.
    expect(receiver.parts.fluids).toMatchObject([
      { number: 'RF-0010', count: 54 },
      { number: 'RF-0046', drawn: '32 mL', amount: '2.11' },
    ]);
  });
  it('is for those qualified: a step without it is found', () => {
    const wrong = found(
      demoWith([
        '/shop/procedures/receiver.yaml',
        '    wear: [gloves, eyes]\n    qualification: refrigerants\nclose-up',
        '    wear: [gloves, eyes]\nclose-up',
      ]),
    );
    expect(wrong.map((one) => one.rule)).toEqual(['hazard/no-qualification']);
  });
});

describe('high voltage', () => {
  it('the chain: take one link away and it is found at the step that opens', () => {
    const without = (from: string, to = '') =>
      found(demoWith(['/shop/procedures/high-voltage-isolated.yaml', from, to])).filter((one) => one.rule === 'hazard/high-voltage');
    const second = without('    second-person: "the three readings, and the tester before and after"\n');
    expect(second.map((one) => one.line)).toEqual(['- remove: pack-cover']);
    expect(second[0]?.message).toMatch(/`second-person:` at the proof/);
    const proof = without('  - measure: proof-dead\n', '  - inspect: leaks\n');
    expect(proof[0]?.message).toMatch(/`measure:` that proves it dead/);
    const unlocked = found(
      demoWith([
        '/shop/procedures/high-voltage-isolated.yaml',
        '    - unlock: service-plug\n      says: Only who locked it takes the lock off.\n      qualification: high voltage\n',
        '',
      ]),
    );
    expect(unlocked.map((one) => one.rule)).toContain('ledger/temporary-left-in');
  });
  it('the same person as doer and checker cannot be', () => {
    const wrong = found(demoWith(['/shop/jobs/2050-coolant-plate.yaml', 'checker: T7', 'checker: T6']));
    expect(wrong.map((one) => one.rule)).toEqual(['job/same-person']);
  });
  it('16 cover bolts in two stages to 12 N·m; insulation again after 14 days', () => {
    const plate = job('2050-coolant-plate');
    const bolts = plate.joints.find((joint) => joint.group === 'cover-bolts');
    expect([bolts?.count, bolts?.stages.map((stage) => stage.value)]).toEqual([16, ['6 N·m', '12 N·m']]);
    expect(plate.followUps.map((one) => one.due)).toEqual(['after 14 d from 2026-11-25']);
    expect(plate.measurements.map((one) => one.code).slice(0, 3)).toEqual(['V-01', 'V-02', 'V-03']);
  });
});

describe('injectors', () => {
  it('four clamp bolts, new, with torque and half a turn: eight boxes', () => {
    const bolts = job('2051-injectors').joints.find((joint) => joint.group === 'injector-clamp-bolts');
    expect(bolts?.renew).toBe(true);
    expect(bolts?.stages.reduce((sum, stage) => sum + stage.boxes, 0)).toBe(8);
  });
  it('twelve times the torque is 2.16 times the proof load: an error that asks for lbf·in', () => {
    const wrong = found(demoWith(['/shop/vehicles/osprane-25.yaml', 'torque: 7 N·m }, { angle: 180', 'torque: 84 N·m }, { angle: 180']));
    expect(wrong[0]).toMatchObject({ rule: 'torque/cannot-hold', message: expect.stringMatching(/2\.2 times/) });
  });
  it('codes are texts: 7E12 without quotes is a number to YAML', () => {
    const wrong = found(demoWith(['/shop/jobs/2051-injectors.yaml', 'cylinder-1: "7E12"', 'cylinder-1: 7E12']));
    expect(wrong).toMatchObject([{ rule: 'yaml/needs-quotes', line: 'cylinder-1: 7E12' }]);
    expect(job('2051-injectors').codes).toEqual([
      { part: 'cylinder-1', code: '7E12' },
      { part: 'cylinder-2', code: '00A4' },
      { part: 'cylinder-3', code: '12E4' },
      { part: 'cylinder-4', code: '6B08' },
    ]);
  });
});

it('in each job the same is found with the plan that the rules have walked as with one of its own', () => {
  const texts = demoTexts();
  texts['/shop/shop.yaml'] = (texts['/shop/shop.yaml'] ?? '').replace(/^tools:\n(?: .*\n|\n)+/m, '');
  const poor = libraryOf(texts);
  const settled = [...poor.jobs.values()].map((one) => {
    const plan = new RuleContext(new Shared(poor), [one]).plans.find((walked) => walked.settled)?.plan;
    const own = findingsOfJob(poor, one);
    expect(own.some(({ rule }) => rule === 'tool/no-wrench')).toBe(true);
    expect(findingsOfJob(poor, one, plan)).toEqual(own);
    return plan !== undefined;
  });
  // The steps of some jobs wait for outcomes; those have no plan that all outcomes share.
  expect(new Set(settled)).toEqual(new Set([true, false]));
});

it('where several lines of the ledger are about one thing, the last page says what was done with it', () => {
  const words = wordsOn(baySheet(compiled(libraryOf(demoTexts()), '2052-hub-adjustment'), measure));
  expect(words).toContain('front axle, raised');
  expect(words).toContain('front axle, supported');
  expect(words).not.toMatch(/left hub cap, /);
  expect(wordsOn(baySheet(compiled(libraryOf(demoTexts()), '2042-hub-bearing'), measure))).not.toContain('vehicle, raised');
});

it('an engine that was started is off again when the vehicle is back from the road', () => {
  const start = '  running:\n    - start: engine\n      warning: Hands clear.\n  ground:';
  const job = compiled(demoWith(['/shop/procedures/hub-bearing.yaml', '  ground:', start]), '2042-hub-bearing');
  const safe = (verb: string) => job.steps.filter((step) => step.verb === verb).map((step) => step.safeToLeave);
  expect([safe('start'), safe('drive')]).toEqual([[false], [true]]);
  expect(job.steps.at(-1)?.safeToLeave).toBe(true);
});

describe('a drum that the shop draws from', () => {
  const catalogue = '/shop/parts/tarrock.yaml';
  const canister = '  - { number: "FL-1005", name: engine oil 5 L, contains: { engine-oil: 5 L }, price: 41.00, bin: F2 }\n';
  const withDrum = (price: string, more = 'drawn: true') =>
    demoWith([
      catalogue,
      canister,
      `${canister}  - { number: "FL-1200", name: engine oil drum, contains: { engine-oil: 200 L }, price: ${price}, bin: F9, ${more} }\n`,
    ]);
  const oilOf = (library: Library) => {
    const { parts, quote } = compiled(library, '2041-head-gasket');
    return {
      bought: parts.fluids.filter(({ number }) => number.startsWith('FL-1')),
      left: parts.fluidLeftovers.filter(({ name }) => /oil/.test(name)),
      quote,
    };
  };

  it('what is used is charged by its share, and nothing is left over', () => {
    const whole = oilOf(libraryOf(demoTexts()));
    const litres = compiled(libraryOf(demoTexts()), '2041-head-gasket').fluids.find(({ id }) => id === 'engine-oil');
    expect(litres).toBeDefined();
    const { bought, left, quote } = oilOf(withDrum('1000.00'));
    const [oil] = bought;
    const amount = Number(oil?.drawn?.replace(/ L$/, ''));
    expect(bought).toHaveLength(1);
    expect(amount).toBeGreaterThan(5);
    // 1000.00 for 200 L: 5.00 a litre.
    expect([oil?.number, oil?.count, oil?.price, oil?.amount]).toEqual(['FL-1200', 0, '1000.00', (amount * 5).toFixed(2)]);
    expect([left, whole.left.length > 0 || whole.bought.length > 0]).toEqual([[], true]);
    expect(Number(quote.gross)).toBeLessThan(Number(whole.quote.gross));
    expect([...contradictionsIn(compiled(withDrum('1000.00'), '2041-head-gasket'))]).toEqual([]);
    const job = compiled(withDrum('1000.00'), '2041-head-gasket');
    expect(wordsOn(partsList(job, measure))).toMatch(new RegExp(`FL-1200 ${oil?.drawn} engine oil drum`));
    expect(partsListCsv(job)).toContain(`F9,FL-1200,engine oil drum,${oil?.drawn},1000.00,${oil?.amount},200 L engine oil`);
  });

  it('what is drawn and what is left stands on the parts list in the shop’s units; the factors are those of NIST HB 44, appendix C', () => {
    const inUs = (texts: Library, id: string) => {
      const files = Object.fromEntries([...texts.files].map(({ file }) => [file.path, file.text]));
      const own = Object.fromEntries(Object.entries({ ...files }).map(([name, text]) => [`/shop/${name}`, text]));
      const shop = (own['/shop/shop.yaml'] ?? '').replace('torque-unit: ', 'volume-unit: US qt\nmass-unit: oz\ntorque-unit: ');
      return compiled(libraryOf({ ...demoTexts(), ...own, '/shop/shop.yaml': shop }), id);
    };
    const { parts } = inUs(withDrum('1000.00'), '2041-head-gasket');
    const [drum] = parts.fluids.filter(({ drawn }) => drawn !== null);
    const litres = Number(drum?.drawn?.replace(/ L$/, ''));
    expect(Number(drum?.inShopUnit?.replace(/ US qt$/, ''))).toBeCloseTo(litres / 0.946352946, 1);
    expect(parts.fluidLeftovers.length).toBeGreaterThan(0);
    for (const { amount, inShopUnit } of parts.fluidLeftovers)
      expect(Number(inShopUnit?.replace(/ US qt$/, ''))).toBeCloseTo(Number(amount.replace(/ L$/, '')) / 0.946352946, 1);
    const charged = inUs(libraryOf(demoTexts()), '2049-receiver');
    const oil = charged.parts.fluids.find(({ number }) => number === 'RF-0046');
    expect([oil?.drawn, oil?.inShopUnit]).toEqual(['32 mL', '1.08 US fl oz']);
    expect(wordsOn(partsList(charged, measure))).toContain('1.08 US fl oz (32 mL)');
  });

  it('whole containers are bought where they cost less, and a drum without the word is one of them', () => {
    const whole = oilOf(libraryOf(demoTexts())).bought;
    expect(oilOf(withDrum('9000.00')).bought).toEqual(whole);
    expect(oilOf(withDrum('1000.00', 'drawn: false')).bought).toEqual(whole);
  });

  it('holds litres or grams of one item', () => {
    expect(found(demoWith([catalogue, canister, canister.replace(' bin: F2', ' bin: F2, drawn: true')])).map(({ rule }) => rule)).toEqual(
      [],
    );
    const drums = (contains: string) =>
      found(
        demoWith([catalogue, canister, canister.replace('engine-oil: 5 L', contains).replace(' bin: F2', ' bin: F2, drawn: true')]),
      ).map(({ rule }) => rule);
    expect(drums('engine-oil: 5 L, head-bolt: 1')).toEqual(['parts/drawn-pieces']);
    expect(drums('head-bolt: 100')).toEqual(['parts/drawn-pieces']);
  });
});

it('two parts that one step puts on with the same seal: one line on the sheet, with both seals', () => {
  const covers =
    'parts: { lid-a: { name: front lid, seals: { pump-gasket: 1 } }, lid-b: { name: rear lid, seals: { pump-gasket: 2 } } }\nsteps:\n  - remove: [lid-a, lid-b]\nclose-up:\n  - fit: [lid-a, lid-b]\n';
  const { all } = filesOfExample(jobWith('', covers));
  const texts = Object.fromEntries(Object.entries(all).map(([name, text]) => [`/shop/${name}`, text]));
  const one = compiled(libraryOf(texts), 'example-job');
  expect(one.steps.flatMap(({ parts }) => parts)).toEqual([{ item: 'pump-gasket', name: 'pump gasket', count: 3 }]);
});

it('a job comes to the same whether it was checked before or not, with or without other ways, and each time it is asked', () => {
  const order = '/shop/jobs/2047-clutch.yaml';
  const otherWay = "alternatives:\n  again: { says: 'The same once more.', work: [clutch] }\n";
  const texts = { ...demoTexts(), [order]: `${demoTexts()[order]}${otherWay}` };
  const ids = [...libraryOf(texts).jobs.keys()];
  expect(ids).toHaveLength(12);
  for (const id of ids) {
    const never = compiled(libraryOf(texts), id);
    expect(never.workings.length).toBeGreaterThan(3);
    const [one, other] = [libraryOf(texts), libraryOf(texts)];
    const asked = one.jobs.get(id);
    if (!asked) throw new Error('no job');
    const findings = findingsOfJob(one, asked);
    expect(compiled(one, id)).toEqual(never);
    for (const each of ids) expect(compiled(other, each).id).toBe(each);
    expect(compiled(other, id)).toEqual(never);
    expect(compiled(other, id)).toEqual(never);
    expect(findingsOfJob(one, asked)).toEqual(findings);
  }
});

describe('wheels tightened again when the vehicle comes back, or in their place', () => {
  const again = (...steps: readonly string[]) => {
    const shop = libraryOf({
      ...demoTexts(),
      '/shop/procedures/wheels-again.yaml': `kind: procedure\nid: wheels-again\nname: Re-torque the wheels\nfor: tolland-18\nsource: { document: Tolland chassis book, section: 40-02 }\ncustomer: { what: Re-torque the wheels., why: Joints settle. }\nlabour: { all: { time: 0.3 h } }\nsteps:\n${steps.map((step) => `  - ${step}\n`).join('')}`,
      '/shop/jobs/2061-again.yaml':
        'kind: job\nid: 2061-again\nnumber: "2061"\ndate: "2026-11-27"\nvehicle: tolland-18\nplate: EF 3118 L\nvin: BRMTL18C1NC003118\nodometer: 226602 km\ncustomer: Street cleaning\nwork: [wheels-again]\n',
    });
    expect(found(shop).filter(({ rule }) => rule !== 'measurement/outside-limit')).toEqual([]);
    return compiled(shop, '2061-again');
  };
  const stages = (steps: ReturnType<typeof again>['steps']) => steps.map(({ torque }) => torque.map((one) => [one.joint, ...one.stages]));

  it('has the figure of the stage after the distance at every wheel, no new nuts, and no slip for what is done', () => {
    const back = again('re-torque: wheel-nuts\n    wheels: on-ground');
    expect(contradictionsIn(back)).toEqual([]);
    expect(stages(back.steps)).toEqual([
      [
        ['T-01', 3],
        ['T-02', 3],
      ],
    ]);
    expect(back.joints.map(({ name, firstStage, renew }) => [name, firstStage, renew])).toEqual([
      ['wheel nuts, front left wheel', 3, false],
      ['wheel nuts, front right wheel', 3, false],
    ]);
    expect(back.followUps).toEqual([]);
    expect(back.parts.demand).toEqual([]);
    // No table without a row.
    expect(wordsOn(partsList(back, measure))).not.toContain('What it is for');
    expect(wordsOn(baySheet(back, measure))).toMatch(/0 opened, 0 closed.*seen closed\. Kept for the record/);
    const card = wordsOn(torqueCard(back, measure));
    expect(card).toMatch(/600\s?N·m.*after\s50\skm/);
    expect(card).not.toMatch(/250|oiled/);
    // The joint stays tight: its threads are not oiled again.
    expect(wordsOn(baySheet(back, measure))).not.toMatch(/oiled/);
  });

  it('has the figures of what was loosened where it is, each place by its name, and the slip', () => {
    const loosened = again('loosen: front-left-wheel', 'tighten: wheel-nuts', 'tighten: wheel-nuts\n    wheels: on-ground');
    expect(contradictionsIn(loosened)).toEqual([]);
    expect(stages(loosened.steps)).toEqual([[], [['T-01', 1]], [['T-01', 2]]]);
    // Whoever takes it over must not drive it: the wheel is on, and its nuts are loose.
    expect(loosened.steps.map(({ safeToLeave }) => safeToLeave)).toEqual([false, false, true]);
    expect(loosened.ledger.lines.map(({ name }) => name)).toEqual(['wheel nuts, front left wheel']);
    expect(loosened.followUps.map(({ what, due }) => `${what}, ${due}`)).toEqual([
      'Re-torque wheel nuts, front left wheel to 600 N·m, at 226652 km',
    ]);
    expect(stages(again('loosen: wheel-nuts', 'tighten: wheel-nuts', 'tighten: wheel-nuts\n    wheels: on-ground').steps)).toEqual([
      [],
      [
        ['T-01', 1],
        ['T-02', 1],
      ],
      [
        ['T-01', 2],
        ['T-02', 2],
      ],
    ]);
  });
});

it('by how much a joint is turned altogether stands where it is turned for the last time; from a torque or a turn back', () => {
  const head = job('2041-head-gasket');
  const [bolts] = head.joints.filter(({ group }) => group === 'head-bolts');
  expect(bolts?.totalAngle).toBe('180°');
  expect(wordsOn(baySheet(head, measure)).match(/Turned by 180° altogether\./g)).toHaveLength(
    head.joints.filter((one) => one.totalAngle === '180°').length,
  );
  const turned = (stages: string) =>
    compiled(demoWith(['/shop/vehicles/marn-20.yaml', '- { angle: 50 deg }\n', stages]), '2047-clutch').joints.find(
      ({ group }) => group === 'flywheel-bolts',
    )?.totalAngle;
  expect(turned('- { angle: 50 deg }\n')).toBeNull();
  expect(turned('- { angle: 50 deg }\n      - { angle: 22.5 deg }\n')).toBe('72.5°');
  expect(turned('- { angle: 50 deg }\n      - { repeat: 2 }\n')).toBe('100°');
  expect(
    turned(
      '- { angle: 50 deg }\n      - { back-off: 90 deg }\n      - { torque: 60 N·m }\n      - { angle: 30 deg }\n      - { angle: 40 deg }\n',
    ),
  ).toBe('70°');
  expect(turned('- { angle: 50 deg }\n      - { angle: 30 deg, after: heat-cycle }\n')).toBeNull();
});

describe('what a vehicle asks for at a step', () => {
  const profile = '/shop/vehicles/tarrock-35.yaml';
  it('stands at each such step, of whatever document, and at no other', () => {
    const { steps } = job('2041-head-gasket');
    expect(steps.flatMap(({ verb, notes }) => notes.map((note) => `${verb}: ${note.slice(0, 12)}`))).toEqual([
      'raise: Pads under t',
      'pressurise: 1.2 bar; the',
      'reset: Clock; both ',
    ]);
    expect(wordsOn(baySheet(job('2041-head-gasket'), measure))).toContain('This vehicle: 1.2 bar; the cap opens at 1.4 bar.');
    // A verb alone means all of its steps; a joint is meant by the part that it holds, too.
    const more = compiled(demoWith([profile, 'notes:', 'notes:\n  drain: Slowly.\n  tighten cylinder-head: Twice.']), '2041-head-gasket');
    const at = (said: string) =>
      more.steps.filter(({ notes }) => notes.includes(said)).map(({ verb, objects }) => `${verb} ${objects[0]?.id}`);
    expect(at('Slowly.').sort()).toEqual(['drain coolant', 'drain engine-oil']);
    expect(at('Twice.')).toEqual(['tighten head-bolts']);
  });
  it('is told where no step can be that', () => {
    const told = (name: string) =>
      found(demoWith([profile, '  raise vehicle:', `  ${name}:`])).map(({ rule, message }) => `${rule}: ${message}`);
    expect(told('rise vehicle')).toEqual([
      'gate/unknown-gate: `rise vehicle` is no step: `rise` is not what a step does. Did you mean `raise vehicle`?',
    ]);
    expect(told('drain cooolant')).toEqual([expect.stringMatching(/^gate\/unknown-gate: `drain cooolant` is no step: .*`coolant`/)]);
    expect(told('Raise the vehicle')).toEqual([expect.stringMatching(/^schema\/wrong-form: /)]);
  });
});

it('how a level is read stands at the step that checks it, of several fluids at each, also where nothing is filled', () => {
  const shop = (checks: string) =>
    compiled(
      libraryOf({
        ...demoTexts(),
        '/shop/procedures/levels.yaml': `kind: procedure\nid: levels\nname: Check the levels\nfor: tarrock-35\nsource: { document: Tarrock engine book, section: 03-02 }\ncustomer: { what: Levels checked., why: They are due. }\nlabour: { all: { time: 0.1 h } }\nsteps:\n  - check: ${checks}\n`,
        '/shop/jobs/2064-levels.yaml':
          'kind: job\nid: 2064-levels\nnumber: "2064"\ndate: "2026-11-27"\nvehicle: tarrock-35\nplate: EF 2217 K\nodometer: 226602 km\ncustomer: Post\nfeatures: { engine: { is: R1, by: TF } }\nwork: [levels]\n',
      }),
      '2064-levels',
    );
  const oil = 'engine off, on level ground, after 5 min: At the upper mark of the dipstick.';
  const one = shop('engine-oil');
  expect([one.fluids, one.steps.flatMap(({ levels }) => levels)]).toEqual([[], [{ name: 'engine oil', says: oil }]]);
  expect(wordsOn(baySheet(one, measure))).toContain(`Check the level of engine oil Level: ${oil}`);
  const both = wordsOn(baySheet(shop('[engine-oil, coolant]'), measure));
  expect(both).toContain(`Level, engine oil: ${oil} Level, coolant: max 40 °C, engine off`);
  for (const { steps } of [...library.jobs.keys()].map(job))
    for (const step of steps) if (step.verb === 'check' && step.sentence.startsWith('Check the level')) expect(step.levels).toHaveLength(1);
});
