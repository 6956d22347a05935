// A shop of another trade and hand, clean as it stands; then one mistake at a time: one finding each, of the rule expected.
import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkLibrary } from '../src/compile.js';
import { applyFixes } from '../src/findings/fixes.js';
import { demoTexts, demoWith, found, libraryOf, projectFolder, textsOf } from './helpers/shop.js';

const texts = {
  ...textsOf(path.join(projectFolder, 'tests/fixtures/corner-garage'), '/shop'),
  ...textsOf(path.join(projectFolder, 'procedures'), '/shipped'),
};

it('the shop is clean', () => {
  expect(found(libraryOf(texts))).toEqual([]);
  expect(fs.existsSync(path.join(projectFolder, 'tests/fixtures/corner-garage/shop.yaml'))).toBe(true);
});

it.each([
  ['ledger/left-open', 'procedures/thermostat-pump.yaml', '  - fit: splash-shield\n', ''],
  ['schema/unknown-key', 'procedures/thermostat-pump.yaml', '\nsteps:\n', '\nstpes:\n'],
  ['torque/owed', 'procedures/thermostat-pump.yaml', '  - tighten: coolant-pump\n', ''],
  ['torque/owed', 'procedures/thermostat-pump.yaml', '  - tighten: pulley-bolts\n', ''],
  ['order/covered', 'procedures/thermostat-pump.yaml', '  - remove: drive-belt\n    says: Turn the tensioner and slip the belt off.\n', ''],
  ['order/covered', 'procedures/thermostat-pump.yaml', '  - remove: thermostat-housing\n', ''],
  ['reference/unknown-name', 'procedures/thermostat-pump.yaml', 'fit: upper-hose', 'fit: uper-hose'],
  ['hazard/beneath', 'procedures/thermostat-pump.yaml', '  - vehicle-raised\n', ''],
  ['reference/unknown-name', 'procedures/thermostat-pump.yaml', 'openings: [radiator-drain]', 'openings: [radiator-tap]'],
  ['torque/cannot-hold', 'vehicles/dalby-18.yaml', 'stages: [{ torque: 89 in-lb }] }\n  pump', 'stages: [{ torque: 89 ft-lb }] }\n  pump'],
  ['quantity/ambiguous-unit', 'vehicles/dalby-18.yaml', 'torque: 18 ft-lb }] }\n  housing', 'torque: 18 lb }] }\n  housing'],
  ['quantity/ambiguous-unit', 'vehicles/dalby-18.yaml', 'capacity: 4.1 US gal', 'capacity: 4.1 gal'],
  ['torque/no-counter-hold', 'vehicles/dalby-18.yaml', 'counter-hold: strap-wrench, ', ''],
  ['fastener/no-sequence', 'vehicles/dalby-18.yaml', 'sequence: star, stages: [{ torque: 89', 'stages: [{ torque: 89'],
  ['fluid/capacity', 'vehicles/dalby-18.yaml', 'gives: 2.5 ±0.2 US gal', 'gives: 5.2 US gal'],
  ['quantity/no-unit', 'jobs/3001-pump.yaml', '42 %', '42'],
  ['yaml/needs-quotes', 'jobs/3001-pump.yaml', 'plate: "AB 123"', 'plate: 123'],
  ['schema/wrong-form', 'jobs/3001-pump.yaml', 'date: "2026-11-25"', 'date: 25.11.2026'],
  ['yaml/needs-quotes', 'parts/dalby.yaml', 'number: "11"', 'number: 011'],
  [
    'order/shut-in',
    'procedures/thermostat-pump.yaml',
    '  - fit: thermostat\n    new: true\n  - fit: thermostat-housing\n',
    '  - fit: thermostat-housing\n  - fit: thermostat\n    new: true\n',
  ],
  ['schema/unknown-key', 'procedures/thermostat-pump.yaml', 'close-up:', 'closeup:'],
  ['step/in-words', 'procedures/thermostat-pump.yaml', 'says: As sketched; every rib in its groove.', 'says: Reassemble in reverse order.'],
  ['yaml/syntax', 'procedures/thermostat-pump.yaml', '- clean: gasket-faces', '-clean: gasket-faces'],
  ['reference/not-told', 'procedures/thermostat-pump.yaml', 'coolant-drained: { openings: [radiator-drain] }', 'coolant-drained'],
  ['gate/too-early', 'procedures/thermostat-pump.yaml', '  - tighten: splash-shield', '  - tighten: splash-shield\n    wheels: on-ground'],
  ['parts/unknown-item', 'vehicles/dalby-18.yaml', 'water: demineralised-water', 'water: tap'],
  ['parts/unknown-item', 'vehicles/dalby-18.yaml', 'item: thermostat,', 'item: thremostat,'],
  ['parts/unknown-item', 'vehicles/dalby-18.yaml', 'item: coolant-concentrate', 'item: coolant'],
  ['parts/unknown-item', 'vehicles/dalby-18.yaml', 'seals: { pump-gasket: 1 }', 'seals: { pump-gaskte: 1 }'],
  ['parts/unknown-item', 'parts/dalby.yaml', 'thermostat: 1, thermostat-o-ring: 1', 'thermostat: 1, thermostat-o-rnig: 1'],
  ['parts/unknown-item', 'parts/dalby.yaml', 'contains: { demineralised-water: 5 L }', 'contains: { demineralized-water: 5 L }'],
  ['parts/no-offer', 'parts/dalby.yaml', 'coolant-pump: 1, pump-gasket: 1', 'coolant-pump: 1'],
  ['reference/unknown-vehicle', 'parts/dalby.yaml', 'for: dalby-18', 'for: dalby-81'],
  ['reference/unknown-vehicle', 'parts/dalby.yaml', 'for: dalby-18', 'for: some-other'],
])('%s in %s: %j', (rule, file, from, to) => {
  const full = `/shop/${file}`;
  const text = texts[full] ?? '';
  expect(text).toContain(from);
  expect(found(libraryOf({ ...texts, [full]: text.replace(from, () => to) })).map((one) => one.rule)).toEqual([rule]);
});

it.each([
  ['wheels: on-ground', 'Move it to `final: ground:`, which comes after the step that closes it.'],
  ['says: Look.', undefined],
])('a step with `%s` that comes before the vehicle is lowered is told where it belongs', (line, told) => {
  const full = '/shop/procedures/thermostat-pump.yaml';
  const text = (texts[full] ?? '').replace('  - tighten: splash-shield', `  - tighten: splash-shield\n    ${line}`);
  const messages = found(libraryOf({ ...texts, [full]: text })).map((one) => one.message);
  expect(messages).toEqual(told ? [expect.stringContaining(told)] : []);
});

it.each([
  ['the first line of a step is deleted', 'close-up:\n    says: Look inside.\n  - fit: cover\n', /^- fit: cover$/],
  ['an entry of a list stands under a value', 'needs: a\n- b\n', /^- b$/],
])('a list entry among keys is told as that, where it begins: %s', (_, lines, at) => {
  const text = `kind: procedure\nid: x\nname: X\n${lines}`;
  const [finding, ...others] = found(libraryOf({ ...texts, '/shop/procedures/x.yaml': text }));
  expect(others).toEqual([]);
  expect(finding?.message).toMatch(/^A list entry \(`- `\) begins here/);
  expect(finding?.line.trim()).toMatch(at);
});

const named = (findings: readonly { readonly rule: string; readonly message: string }[]) =>
  findings.map(({ rule, message }) => [rule, ...(message.match(/`[^`]+`/g) ?? [])]);

it('what several things lack at one place is told of each', () => {
  const shop = (texts['/shop/shop.yaml'] ?? '').replace(/^ {2}(lift|refractometer|vacuum-filler|pressure-tester):.*\n/gm, '');
  expect(named(found(libraryOf({ ...texts, '/shop/shop.yaml': shop })))).toEqual(
    [
      ['vehicle-raised', 'lift'],
      ['coolant-drained', 'refractometer'],
      ['coolant-drained', 'vacuum-filler'],
      ['coolant-drained', 'pressure-tester'],
    ].map(([work, tool]) => ['reference/unknown-tool', `\`${work}\``, `\`${tool}\``, `\`${tool}: { type: special }\``]),
  );
  const drain = 'kind: vehicle\nid: bare\nname: Bare\nfluids:\n  oil: { spec: O-1, item: oil, capacity: 5 L, drains: [{}] }\n';
  expect(named(found(libraryOf({ ...texts, '/shop/vehicles/bare.yaml': drain })))).toEqual([
    ['schema/missing-key', '`drains`', '`through:`', '`gives:`'],
  ]);
});

it('what one change mends is told once, with all that it mends', () => {
  const vehicle = (texts['/shop/vehicles/dalby-18.yaml'] ?? '').replace(/^times:\n(?: .*\n)*/m, '');
  expect(named(found(libraryOf({ ...texts, '/shop/vehicles/dalby-18.yaml': vehicle })))).toEqual([
    [
      'labour/no-time',
      '`vehicle-received/test`',
      '`vehicle-raised/raise`',
      '`engine-cold/cool`',
      '`coolant-drained/drain`',
      '`coolant-drained/fill`',
      '`times: { vehicle-received: { test: 0.2 h }, vehicle-raised: { raise: 0.2 h }, engine-cold: { cool: 0.2 h }, coolant-drained: { drain: 0.2 h, fill: 0.2 h } }`',
    ],
  ]);
  const loose = demoWith(['/shop/procedures/hub-bearing.yaml', '  - tighten: steering-knuckle\n', '']);
  expect(found(loose).map(({ rule, message }) => [rule, message])).toEqual([
    [
      'torque/owed',
      '`steering-knuckle` (steering knuckle with hub) goes on here, but `knuckle-bolts` (knuckle-to-strut bolts) and `ball-joint-nut` (ball-joint nut) are never tightened. Add `tighten: steering-knuckle`.',
    ],
  ]);
});

it.each([
  ['price/unknown-tax', '/shop/shop.yaml', '\ntax: standard', '\ntax: standart'],
  ['reference/unknown-in-profile', '/shop/vehicles/tarrock-35.yaml', 'circuit: coolant', 'circuit: coolnt'],
  ['reference/unknown-in-profile', '/shop/vehicles/tarrock-35.yaml', 'from: piston-protrusion', 'from: piston-protrusions'],
  ['parts/unknown-item', '/shop/vehicles/tarrock-35.yaml', 'gives: head-gasket-g1', 'gives: head-gasket-g7'],
  ['reference/unknown-tool', '/shop/vehicles/sillane-16.yaml', 'tool: crank-pin', 'tool: crank-pn'],
  ['reference/unknown-in-profile', '/shop/vehicles/sillane-16.yaml', 'while-fitted: timing-belt', 'while-fitted: timing-blet'],
  [
    'reference/unknown-in-profile',
    '/shop/vehicles/pellan-14.yaml',
    '    recovered: refrigerant-recovered',
    '    recovered: refrigerant-recoverd',
  ],
  [
    'hazard/no-safe-condition',
    '/shop/vehicles/pellan-14.yaml',
    'opened-after: [refrigerant-recovered]',
    'opened-after: [refrigerant-recoverd]',
  ],
  ['parts/never-fitted', '/shop/jobs/2046-timing-belt.yaml', '\nrenew: [engine-mount]', '\nrenew: [engine-mout]'],
  ['parts/never-fitted', '/shop/jobs/2046-timing-belt.yaml', ' renew: [engine-mount] }', ' renew: [engine-mout] }'],
  [
    'reference/unknown-work',
    '/shop/jobs/2046-timing-belt.yaml',
    'work: [sillane-timing-belt], renew',
    'work: [sillane-timing-blet], renew',
  ],
  ['reference/unknown-name', '/shop/procedures/head-gasket.yaml', 'turn: engine', 'turn: enigne'],
  ['reference/unknown-measurement', '/shop/jobs/2041-head-gasket.yaml', '  coolant-strength:', '  coolant-strengh:'],
  ['variant/unknown-feature', '/shop/parts/sillane.yaml', 'fits: { mount-studs: "3" }', 'fits: { mount-stds: "3" }'],
  ['parts/unknown-item', '/shop/parts/sillane.yaml', 'together-with: { mount-nut: 3 }', 'together-with: { mount-nuts: 3 }'],
])('%s: a slip in a name of %s is told (%j)', (rule, file, from, to) => {
  const slip = to.match(/[a-z0-9-]+/g)?.find((name) => !from.includes(name));
  const all = found(demoWith([file, from, to]));
  expect(all.filter((one) => one.rule === rule).map(({ message }) => message.includes(`\`${slip}\``))).toContain(true);
});

it('a step may wait for a measurement inside its limit, or outside, and for nothing else', () => {
  const waiting = (outcome: string) =>
    found(demoWith(['/shop/procedures/head-gasket.yaml', 'when: { head-flatness: outside }', `when: { head-flatness: ${outcome} }`])).map(
      ({ rule, message }) => [rule, message],
    );
  expect(waiting('inside')).toEqual([]);
  expect(waiting('[inside, outside]')).toEqual([]);
  expect(waiting('within')).toContainEqual(['variant/unknown-feature', '`head-flatness` is never `within`. It is `inside` or `outside`.']);
});

it.each([
  ['/shop/shop.yaml', '\ntax: standard', '\ntax: standart'],
  ['/shop/jobs/2046-timing-belt.yaml', 'work: [sillane-timing-belt, ', 'work: [sillane-timing-blet, '],
  ['/shop/jobs/2047-clutch.yaml', 'vehicle: marn-20', 'vehicle: mran-20'],
  ['/shop/jobs/2041-head-gasket.yaml', '  coolant-strength:', '  coolant-strengh:'],
  ['/shop/vehicles/tarrock-35.yaml', 'circuit: coolant', 'circuit: coolnt'],
])('a slip in a name of %s is mended to what it was (%j)', (file, from, to) => {
  const { files } = applyFixes(checkLibrary(demoWith([file, from, to])));
  expect(files.map(({ text }) => text)).toContain(demoTexts()[file]);
});

it('what a catalogue for a vehicle that nobody knows does not offer is missed all the same', () => {
  const file = '/shop/parts/dalby.yaml';
  const text = (texts[file] ?? '').replace('for: dalby-18', 'for: dalby-81').replace(/^.*number: "14".*$/m, '');
  expect(found(libraryOf({ ...texts, [file]: text })).map(({ rule }) => rule)).toEqual(['parts/no-offer', 'reference/unknown-vehicle']);
});

it('a slip in the name of an item is told with the name that was meant, also one that is chosen later', () => {
  const told = (file: string, from: string, to: string) => {
    const all = demoTexts();
    const text = all[file] ?? '';
    expect(text).toContain(from);
    const [finding, ...more] = checkLibrary(libraryOf({ ...all, [file]: text.replace(from, to) })).filter(
      (one) => one.severity === 'error',
    );
    expect(more).toEqual([]);
    return `${finding?.rule} ${finding?.message}`;
  };
  expect(told('/shop/vehicles/marn-20.yaml', 'item: flywheel,', 'item: flywheeel,')).toBe(
    'parts/unknown-item No parts catalogue has an item `flywheeel`. Did you mean `flywheel`? Else add it under `items:`.',
  );
  expect(told('/shop/vehicles/tarrock-35.yaml', 'item: head-gasket', 'item: haed-gasket')).toContain('Did you mean `head-gasket`?');
  expect(told('/shop/vehicles/pellan-14.yaml', 'item: refrigerant', 'item: refrigernat')).toContain('Did you mean `refrigerant`?');
});

describe('what is closed twice', () => {
  const clutch = '/shop/procedures/clutch.yaml';
  const told = (from: string, to: string) =>
    found(demoWith([clutch, from, to])).flatMap(({ rule, line, message, related }) =>
      rule === 'ledger/not-open' ? [[line, message, ...related]] : [],
    );

  it('is told at the second step, with what to do', () => {
    expect(told('  - fill: gearbox-oil\n', '  - fill: gearbox-oil\n  - fill: gearbox-oil\n')).toEqual([
      [
        '- fill: gearbox-oil',
        '`gearbox-oil` is closed twice: `fill: gearbox-oil` before this step has done so. Delete one of the two, or write `drain: gearbox-oil` between them.',
        'closed here as well',
      ],
    ]);
  });

  it('is told where somebody closes what a preparation opens and closes, and not in the preparation', () => {
    expect(told('close-up:\n', 'close-up:\n  - connect: battery-negative\n')).toEqual([
      [
        '- connect: battery-negative',
        '`battery-negative` (battery negative clamp) is closed twice: `battery-isolated` does `disconnect: battery-negative`, and `connect: battery-negative` as well. Delete this step.',
        'closed here as well',
      ],
    ]);
  });

  it('may be oil that somebody puts into a part', () => {
    const gasket = '/shop/procedures/head-gasket.yaml';
    const message = (fluid: string) =>
      found(demoWith([gasket, 'steps:\n', `steps:\n  - fill: ${fluid}\n`])).find(({ rule }) => rule === 'ledger/not-open')?.message;
    expect(message('engine-oil')).toMatch(/as well\. Delete this step\. What is put into a part before it goes on is `lubricate:`\.$/);
    expect(message('coolant')).toMatch(/as well\. Delete this step\.$/);
  });

  it('is not what is only slackened: that is still on', () => {
    const message = (...change: readonly [string, string]) =>
      found(demoWith([clutch, ...change])).find(({ rule, line }) => rule === 'ledger/not-open' && line === '- fit: flywheel')?.message;
    expect(message('  - remove: flywheel\n', '  - loosen: flywheel\n')).toMatch(
      /no step before says `remove: flywheel`\. Add that step, or correct the name\. `loosen:` slackens what holds it, and does not take it off\.$/,
    );
    expect(message('  - remove: flywheel\n', '')).toMatch(/Add that step, or correct the name\.$/);
  });
});

describe('a name that is declared otherwise than it is used', () => {
  const tarrock = '/shop/vehicles/tarrock-35.yaml';
  it('is told once where it is used more often, with both places and no fix', () => {
    const library = demoWith([tarrock, '  coolant-pump: {', '  coolant-pmup: {']);
    expect(found(library).map(({ rule, place, message, related }) => [rule, place, message, ...related])).toEqual([
      [
        'reference/unknown-name',
        'procedures/coolant-pump.yaml:20',
        '`coolant-pump` is named 2 times in `coolant-pump` and declared nowhere; `coolant-pmup` is declared, and no step names it. Correct the one that is misspelt.',
        'declared here',
      ],
    ]);
    expect(checkLibrary(library).filter(({ fix }) => fix)).toEqual([]);
  });

  it('is a slip of the step where another step has it right', () => {
    const [first] = found(demoWith(['/shop/procedures/coolant-pump.yaml', '  - fit: coolant-pump', '  - fit: coolant-pmup']));
    expect(first).toMatchObject({ rule: 'reference/unknown-name', message: expect.stringContaining('Did you mean `coolant-pump`?') });
  });
});
