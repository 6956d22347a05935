// What is let out: fluids that nobody answers for, fuel near a spark, a joint that is loaded before it has cured.
import { describe, expect, it } from 'vitest';
import { exampleLibrary, filesOfExample } from '../src/rules/example-library.js';
import { procedure } from '../src/rules/examples.js';
import { found, libraryOf } from './helpers/shop.js';

const van = 'vehicles/sample-van.yaml';

/** The findings in a procedure, with parts of its own, in the small shop. */
function toldIn(parts: string, steps: string, others: Readonly<Record<string, string>> = {}): string[] {
  const { all } = filesOfExample({ ...others, 'procedures/example.yaml': procedure(`${parts}steps:\n${steps}`) });
  const texts = Object.fromEntries(Object.entries(all).map(([name, text]) => [`/shop/${name}`, text]));
  return found(libraryOf(texts)).map((one) => `${one.rule} @ ${one.line}`);
}

const withLevel = {
  [van]: (exampleLibrary[van] ?? '').replace(
    '    form: ready\n',
    '    form: ready\n    level: { engine: "off", says: Between the marks. }\n',
  ),
};

describe('a fluid that runs out where a circuit is opened', () => {
  const hose = (beneath: string) => `parts: { hose: { name: heater hose, circuit: coolant${beneath} } }\n`;
  const off = '  - disconnect: hose\nclose-up:\n  - connect: hose\n';
  const told = ['fluid/unaccounted @ - disconnect: hose'];

  it('is told where its level is asked for, once, at the first step that lets it out', () => {
    expect(toldIn(hose(''), off, withLevel)).toEqual(told);
    expect(toldIn(hose(''), off)).toEqual([]);
    const two = 'parts: { hose: { name: heater hose, circuit: coolant }, pipe: { name: heater pipe, circuit: coolant } }\n';
    expect(toldIn(two, '  - disconnect: hose\n  - disconnect: pipe\nclose-up:\n  - connect: [pipe, hose]\n', withLevel)).toEqual(told);
  });

  it('or where it runs over whoever stands beneath', () => {
    const raised = `  - raise: vehicle\n${off}final: { ground: [{ lower: vehicle }] }\n`;
    expect(toldIn(hose(', beneath: true'), raised)).toEqual(told);
    expect(toldIn(hose(''), raised)).toEqual([]);
  });

  it.each(['  - check: coolant\n', '  - bleed: coolant\n    until: no bubbles\n'])('is answered for by %j', (after) => {
    expect(toldIn(hose(''), off + after, withLevel)).toEqual([]);
  });

  it('is no matter of a cap that it is filled through', () => {
    expect(toldIn('', '  - open: cap\nclose-up:\n  - close: cap\n', withLevel)).toEqual([]);
  });

  it('is left by a preparation to who needs it', () => {
    const preparation = `kind: preparation\nid: hose-off\nname: Hose off\nfor: sample-van\n${hose('')}steps:\n${off}`;
    const needs = (steps: string) =>
      toldIn('needs: [hose-off]\n', `  - inspect: leaks\n${steps}`, { ...withLevel, 'procedures/hose-off.yaml': preparation });
    expect(needs('close-up:\n  - check: coolant\n')).toEqual([]);
    expect(needs('')).toEqual(told);
    const { all } = filesOfExample({ ...withLevel, 'procedures/hose-off.yaml': preparation });
    expect(found(libraryOf(Object.fromEntries(Object.entries(all).map(([name, text]) => [`/shop/${name}`, text]))))).toEqual([]);
  });
});

it('a circuit is bled when it is full again, whether its fluid is named or a part of it', () => {
  const pump = 'parts: { nipple: { name: bleed nipple, circuit: coolant } }\n';
  const told = (object: string, ...last: readonly string[]) => {
    const bleed = `  - bleed: ${object}\n    until: no bubbles\n`;
    const steps = last.map((one) => (one === 'bleed' ? bleed : `  - ${one}\n`)).join('');
    return toldIn(pump, `  - open: [tap, cap]\n  - drain: coolant\nclose-up:\n  - close: tap\n${steps}  - close: cap\n`);
  };
  for (const object of ['coolant', 'nipple']) {
    expect(told(object, 'fill: coolant', 'bleed')).toEqual([]);
    expect(told(object, 'bleed', 'fill: coolant')).toEqual([`fluid/bled-empty @ - bleed: ${object}`]);
    expect(told(object, 'fill: coolant', 'bleed', 'inspect: leaks')).toEqual([]);
  }
});

describe('what is flammable', () => {
  const tank = 'parts: { fuel-tank: { name: fuel tank, hazard: flammable } }\n';
  const off = '  - remove: fuel-tank\n    warning: Vapour burns.\n    wear: [gloves, eyes]\n';
  const on = 'close-up:\n  - fit: fuel-tank\n';

  it('needs no waiting time, but a caution, protection, and a vehicle without current', () => {
    expect(toldIn(tank, off + on)).toEqual(['hazard/ignition-source @ - remove: fuel-tank']);
    expect(toldIn(tank, `  - switch-off: ignition\n${off}${on}  - switch-on: ignition\n`)).toEqual([]);
    expect(toldIn(tank, `  - switch-off: ignition\n  - remove: fuel-tank\n${on}  - switch-on: ignition\n`)).toEqual([
      'hazard/no-caution @ - remove: fuel-tank',
      'hazard/no-protection @ - remove: fuel-tank',
    ]);
  });

  it('may be in the circuit of what is opened, and is told once', () => {
    const petrol = (exampleLibrary[van] ?? '').replace(
      '  coolant:\n',
      '  petrol: { spec: S-2, item: coolant-ready, form: ready, capacity: 8 L, drains: [{ through: [tap], gives: 5 L }], waste: antifreeze, hazard: flammable }\n  coolant:\n',
    );
    const hoses = 'parts: { hose: { name: petrol hose, circuit: petrol }, pipe: { name: petrol pipe, circuit: petrol } }\n';
    const caution = '    warning: Vapour burns.\n    wear: [gloves, eyes]\n';
    const steps = `  - disconnect: hose\n${caution}  - disconnect: pipe\n${caution}close-up:\n  - connect: [pipe, hose]\n`;
    expect(toldIn(hoses, steps, { [van]: petrol })).toEqual(['hazard/ignition-source @ - disconnect: hose']);
  });

  it('is safe with the battery off, and not after it is on again', () => {
    const first =
      '  - read: fault-codes\n  - switch-off: ignition\n  - wait: ignition-off\n  - disconnect: battery\n  - switch-on: ignition\n';
    const again = '  - connect: battery\n  - tighten: battery\n  - reset: clock\n';
    const told = (steps: string) => toldIn(tank, steps).filter((one) => one.startsWith('hazard/ignition'));
    expect(told(first + off + on + again)).toEqual([]);
    expect(told(first + again + off + on)).toEqual(['hazard/ignition-source @ - remove: fuel-tank']);
  });
});

describe('what cures', () => {
  const joint = (circuit: string, threads: string) => `parts: { plate: { name: plate${circuit}, seal: used-again, fasteners: plate-bolts } }
fasteners: { plate-bolts: { count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: ${threads}, cure: 30 min, stages: [{ torque: 20 N·m }] } }
`;
  const work = (end: string) =>
    `  - open: [tap, cap]\n  - drain: coolant\n  - remove: plate\nclose-up:\n  - fit: plate\n  - tighten: plate-bolts\n  - close: tap\n  - fill: coolant\n  - close: cap\n${end}`;
  const told = ['fastener/cure-not-waited @ - tighten: plate-bolts'];

  it('is loaded by what is filled into its circuit, and not by another fluid', () => {
    expect(toldIn(joint(', circuit: coolant', 'sealant'), work(''))).toEqual(told);
    expect(toldIn(joint('', 'threadlocker'), work(''))).toEqual([]);
  });

  it('and by an engine that starts, wherever it is', () => {
    const starts = 'final:\n  running:\n    - start: engine\n      warning: Hands clear of moving parts.\n    - stop: engine\n';
    expect(toldIn(joint('', 'threadlocker'), work(starts))).toEqual(told);
  });
});

it('what is pressed in or glued cures from where it goes in, or is tightened', () => {
  const glued = `parts: { plate: { name: plate, circuit: coolant, fasteners: plate-bond } }
fasteners: { plate-bond: { count: 1, method: hand, cure: 30 min } }
`;
  const told = (end: string) =>
    toldIn(
      glued,
      `  - open: [tap, cap]\n  - drain: coolant\n  - remove: plate\nclose-up:\n  - fit: plate\n${end}  - close: tap\n  - fill: coolant\n  - close: cap\n`,
    );
  expect(told('')).toEqual(['fastener/cure-not-waited @ - fit: plate']);
  expect(told('  - wait: 30 min\n')).toEqual([]);
  expect(told('  - tighten: plate-bond\n')).toEqual(['fastener/cure-not-waited @ - tighten: plate-bond']);
});

describe('what is applied between two faces', () => {
  const lid = 'parts: { lid: { name: front lid } }\n';
  const late = (agent: string, ...order: readonly string[]) =>
    toldIn(
      lid,
      `  - remove: lid\nclose-up:\n${order.map((one) => (one === 'apply' ? `  - apply: lid\n    agent: ${agent}\n` : `  - ${one}\n`)).join('')}`,
    ).filter((one) => one.startsWith('order/'));

  it.each(['sealant', 'threadlocker'])('%s goes on before the part does', (agent) => {
    expect(late(agent, 'apply', 'fit: lid')).toEqual([]);
    expect(late(agent, 'fit: lid', 'apply')).toEqual(['order/applied-late @ - apply: lid']);
    expect(late(agent, 'fit: lid', 'remove: lid', 'apply', 'fit: lid')).toEqual([]);
  });

  it('grease may come after, and so may sealant where nothing was off', () => {
    expect(late('silicone-grease', 'fit: lid', 'apply')).toEqual([]);
    expect(toldIn(lid, '  - apply: lid\n    agent: sealant\n')).toEqual([]);
  });
});

it('what is bonded cures from when it is on, until the vehicle moves', () => {
  const glass = 'parts: { glass: { name: rear glass } }\n';
  const bond = '  - apply: glass\n    agent: adhesive\n';
  const told = (...order: readonly string[]) =>
    toldIn(
      glass,
      `  - remove: glass\nclose-up:\n${order.map((one) => (one === 'bond' ? bond : `  - ${one}\n`)).join('')}final:\n  road:\n    - drive: vehicle\n      says: Listen for wind.\n      wear: [eyes]\n`,
    );
  expect(told('bond', 'fit: glass', 'wait: 60 min')).toEqual([]);
  expect(told('bond', 'fit: glass', 'inspect: edge\n    says: No gap.\n    unattended: 60 min')).toEqual([]);
  for (const order of [
    ['bond', 'fit: glass'],
    ['bond', 'wait: 60 min', 'fit: glass'],
  ])
    expect(told(...order)).toEqual(['order/bond-not-cured @ - apply: glass']);
});

describe('gas that was open', () => {
  const filter = 'parts: { filter: { name: LPG filter, hazard: gas, opened-after: [ignition-off] } }\n';
  const told = (...after: readonly string[]) =>
    toldIn(
      filter,
      `  - wait: ignition-off\n  - remove: filter\n    warning: Gas burns.\n    wear: [gloves, eyes]\n    qualification: gas\nclose-up:\n${after.map((one) => `  - ${one}\n`).join('')}`,
    );
  const untested = ['hazard/gas-not-tested @ - remove: filter'];

  it.each(['test: filter\n    says: Leak spray; no bubbles.', 'inspect: unions\n    says: Leak spray on each, no bubbles.'])(
    'is tested by %j',
    (test) => {
      expect(told('fit: filter', test)).toEqual([]);
      expect(told(test, 'fit: filter')).toEqual(untested);
    },
  );

  it('is not by a glance for drips', () => {
    expect(told('fit: filter')).toEqual(untested);
    expect(told('fit: filter', 'inspect: leaks\n    says: No drip, no wet joint.')).toEqual(untested);
  });
});
