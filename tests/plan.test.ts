// How documents become one plan: who takes part, with which parameters, which steps in which variant, and in which order.
import { expect, it, describe } from 'vitest';
import { checkLibrary } from '../src/compile.js';
import type { VehicleDocument } from '../src/library/document.js';
import type { Library } from '../src/library/library.js';
import { combinations, type Facts } from '../src/library/variants.js';
import { castOf } from '../src/plan/cast.js';
import { mostMembers, neededBy, wantedOf } from '../src/plan/needs.js';
import { castOfJob, factsOf, outlineOf, planJob, putInOrder } from '../src/plan/merge.js';
import type { Plan, PlanStep } from '../src/plan/plan.js';
import { writtenIn } from '../src/plan/written.js';
import { Checker } from '../src/rules/checker.js';
import { outcomesOf } from '../src/plan/outcomes.js';
import { contradictionsIn } from './helpers/consistent.js';
import { compiled, demoTexts, libraryOf } from './helpers/shop.js';

const van = `kind: vehicle
id: van
name: Van
features:
  engine: { values: [A, B], tell: plate }
  gearbox: { values: [M, Z], tell: lever }
parts:
  tray: { fasteners: tray-screws }
  lid: {}
  pump: { behind: [tray] }
  hose: { circuit: coolant, fasteners: hose-clip }
  filter: { fasteners: filter-thread }
  tap: { circuit: coolant }
  wheel: { role: wheel, fasteners: wheel-bolts }
  cap: { fasteners: cap-screws }
fasteners:
  cap-screws: { thread: M6x1, class: "8.8", count: 4, stages: [{ torque: 4 N·m }, { torque: 8 N·m }] }
  tray-screws: { thread: M6x1, class: "8.8", count: 8, stages: [{ torque: 6 N·m }] }
  hose-clip: { count: 1, method: clip }
  filter-thread: { count: 1, method: hand }
  wheel-bolts: { thread: M12x1.5, class: "10.9", count: 4, stages: [{ torque: 50 N·m }, { torque: 105 N·m, wheels: on-ground }] }
fluids:
  coolant: { name: coolant, capacity: 6 L, drains: [{ through: [tap], gives: 3 ±0.1 L }], new-share: 80 % }
`;
const preparation = (id: string, body: string): string => `kind: preparation\nid: ${id}\nname: ${id}\n${body}`;
const procedure = (id: string, body: string): string => `kind: procedure\nid: ${id}\nname: ${id}\nfor: van\n${body}`;
const job = (id: string, body: string): string => `kind: job\nid: ${id}\ndate: "2026-11-25"\nvehicle: van\nplate: "AB 12"\n${body}`;

/** A library of documents; each is a text that begins with its kind and id. */
const library = (...texts: readonly string[]): Library => {
  const named = [van, ...texts].map((text, n): [string, string] => [`/shop/${n}.yaml`, text]);
  const made = libraryOf(Object.fromEntries(named));
  const errors = made.files.flatMap((file) => file.findings).filter((finding) => finding.severity === 'error');
  expect(errors.map(({ message, span }) => `${span.file.path}: ${message}`)).toEqual([]);
  return made;
};
const vehicleOf = (made: Library): VehicleDocument => {
  const found = made.vehicles.get('van');
  if (!found) throw new Error('no van');
  return found;
};
const says = ({ verb, objects }: PlanStep): string => `${verb} ${objects.join(' ')}`;
const cast = (made: Library, ...work: readonly string[]) =>
  castOf(made, { work: work.map((id) => ({ id, params: {} })), vehicle: vehicleOf(made) });
const planned = (made: Library, work: readonly string[], facts: Facts = {}): Plan => putInOrder(outlineOf(cast(made, ...work), facts));
const order = (made: Library, work: readonly string[], facts: Facts = {}): string[] => planned(made, work, facts).steps.map(says);

const trayOff = preparation('tray-off', 'steps:\n  - remove: tray\nclose-up:\n  - fit: tray\n  - tighten: tray\n');
const cold = preparation('cold', 'steps:\n  - switch-off: ignition\nfinal:\n  running:\n    - switch-on: ignition\n');

describe('who takes part', () => {
  it('what is needed, once, before what needs it', () => {
    const made = library(
      cold,
      trayOff,
      preparation('drained', 'needs: [cold, tray-off]\nsteps:\n  - drain: coolant\nclose-up:\n  - fill: coolant\n'),
      procedure('pump', 'needs: [tray-off, drained]\nsteps:\n  - inspect: pump\n'),
    );
    const { members, incomplete } = cast(made, 'pump');
    expect(members.map(({ participant, steps }) => [participant.document.id, steps.steps[0]?.section])).toEqual([
      ['tray-off', 'preparation'],
      ['cold', 'preparation'],
      ['drained', 'preparation'],
      ['pump', 'work'],
    ]);
    expect(incomplete).toBe(false);
    expect([...neededBy(made, ['pump'])].sort()).toEqual(['cold', 'drained', 'tray-off']);
    expect([...neededBy(made, ['cold', 'drained'])]).toEqual(['cold', 'tray-off']);
  });

  it('the way in of the work that needs most is the first; the work itself keeps the order of the job', () => {
    const made = library(
      cold,
      trayOff,
      preparation('deep', 'needs: [cold, tray-off]\nsteps:\n  - inspect: deep\n'),
      procedure('small', 'needs: [tray-off]\nsteps:\n  - inspect: small\n'),
      procedure('large', 'needs: [deep]\nsteps:\n  - inspect: large\n'),
    );
    const ids = (...work: string[]) => cast(made, ...work).members.map(({ participant }) => participant.document.id);
    expect(ids('small', 'large')).toEqual(['cold', 'tray-off', 'deep', 'small', 'large']);
    expect(ids('large', 'small')).toEqual(['cold', 'tray-off', 'deep', 'large', 'small']);
    expect(ids('small')).toEqual(['tray-off', 'small']);
    // Work that other work needs comes before that, wherever the job has it.
    expect(ids('deep', 'large')).toEqual(['cold', 'tray-off', 'deep', 'large']);
    expect(ids('large', 'deep')).toEqual(['cold', 'tray-off', 'deep', 'large']);
  });

  it('is incomplete where something needed is missing, needs itself, is too much, or has a step with no verb', () => {
    const incomplete = (...texts: string[]) => cast(library(...texts), 'top').incomplete;
    expect(incomplete(procedure('top', 'steps:\n  - inspect: x\n'))).toBe(false);
    expect(incomplete(procedure('top', 'needs: [nobody]\nsteps:\n  - inspect: x\n'))).toBe(true);
    expect(
      incomplete(
        procedure('top', 'needs: [round]\nsteps:\n  - inspect: x\n'),
        preparation('round', 'needs: [top]\nsteps:\n  - inspect: x\n'),
      ),
    ).toBe(true);
    const many = (count: number) => [
      ...Array.from({ length: count }, (_, n) => preparation(`m${n}`, 'steps:\n  - inspect: x\n')),
      procedure('top', `needs: [${Array.from({ length: count }, (_, n) => `m${n}`).join(', ')}]\nsteps:\n  - inspect: x\n`),
    ];
    expect(incomplete(...many(mostMembers - 1))).toBe(false);
    expect(incomplete(...many(mostMembers))).toBe(true);
    // What is there already is no more.
    const again = preparation(
      'again',
      `needs: [${Array.from({ length: mostMembers - 2 }, (_, n) => `m${n}`).join(', ')}]\nsteps:\n  - inspect: x\n`,
    );
    expect(incomplete(...many(mostMembers - 2), again)).toBe(false);
    const chain = Array.from({ length: 3 * mostMembers }, (_, n) =>
      preparation(`c${n}`, `${n > 0 ? `needs: [c${n - 1}]\n` : ''}steps:\n  - inspect: x\n`),
    );
    expect(neededBy(library(...chain), [`c${3 * mostMembers - 1}`]).size).toBe(mostMembers + 1);
  });

  it('takes a hole in a document for what it is', () => {
    const holed = (verb: string) =>
      libraryOf({ '/shop/v.yaml': van, '/shop/p.yaml': procedure('top', `steps:\n  - ${verb}: tray\n  - inspect: x\n`) });
    expect(cast(holed('dismount'), 'top').incomplete).toBe(true);
    // What can only be a slip is read as what was meant.
    expect(cast(holed('remvoe'), 'top').incomplete).toBe(false);
    expect(order(holed('remvoe'), ['top'])).toEqual(['remove tray', 'inspect x']);
  });

  it('knows what goes back new', () => {
    const made = library(
      preparation('helper', 'renew: [tap]\nsteps:\n  - inspect: x\n'),
      procedure('top', 'needs: [helper]\nrenew: [pump]\nsteps:\n  - inspect: x\n'),
      job('one', 'work: [top]\nrenew: [hose]\nfeatures: { engine: { is: B, by: code } }\n'),
      job('two', 'work: [top]\n'),
    );
    const [one, two] = [made.jobs.get('one'), made.jobs.get('two')];
    if (!one || !two) throw new Error('no jobs');
    expect([...castOfJob(made, one).renewed].sort()).toEqual(['hose', 'pump', 'tap']);
    expect([...planJob(made, two).renewed].sort()).toEqual(['pump', 'tap']);
    expect([factsOf(one), factsOf(two)]).toEqual([{ engine: 'B' }, {}]);
    expect([castOfJob(made, one).incomplete, castOfJob(made, { ...one, vehicle: 'nobody' }).incomplete]).toEqual([false, true]);
    expect(castOfJob(made, { ...one, vehicle: 'nobody' }).members.length).toBe(2);
  });
});

describe('parameters', () => {
  const wheels = preparation(
    'wheels-off',
    'params: { wheels: { default: wheel }, pads: {} }\nsteps:\n  - remove: $wheels\n  - inspect: [$pads, hub]\nclose-up:\n  - fit: $wheels\n',
  );
  const made = library(
    wheels,
    preparation('bare', 'steps:\n  - inspect: x\n'),
    procedure('plain', 'needs: [wheels-off]\nsteps:\n  - inspect: x\n'),
    procedure('named', 'needs: [wheels-off: { wheels: [tap, lid], pads: hose }]\nsteps:\n  - inspect: x\n'),
    procedure('short', 'needs: [wheels-off: [lid]]\nsteps:\n  - inspect: x\n'),
  );

  it('are written in a short form and a long one', () => {
    expect(wantedOf('wheels-off', made)).toEqual({ id: 'wheels-off', params: {} });
    expect(wantedOf({ 'wheels-off': 'lid' }, made)).toEqual({ id: 'wheels-off', params: { wheels: ['lid'] } });
    expect(wantedOf({ 'wheels-off': ['lid', 'tap'] }, made)).toEqual({ id: 'wheels-off', params: { wheels: ['lid', 'tap'] } });
    expect(wantedOf({ 'wheels-off': { pads: 'hose', wheels: ['tap'] } }, made)).toEqual({
      id: 'wheels-off',
      params: { pads: ['hose'], wheels: ['tap'] },
    });
    for (const id of ['nobody', 'plain', 'bare']) expect(wantedOf({ [id]: 'lid' }, made)).toEqual({ id, params: { values: ['lid'] } });
  });

  it('fill in the objects of steps; what has none falls away, and defaults stand in', () => {
    expect(order(made, ['plain'])).toEqual(['remove wheel', 'inspect hub', 'inspect x', 'fit wheel']);
    expect(order(made, ['named'])).toEqual(['remove tap lid', 'inspect hose hub', 'inspect x', 'fit tap lid']);
    expect(order(made, ['short'])).toEqual(['remove lid', 'inspect hub', 'inspect x', 'fit lid']);
  });

  it('of several works are joined', () => {
    expect(order(made, ['named', 'short'])[0]).toBe('remove tap lid');
    expect(order(made, ['short', 'named'])[0]).toBe('remove lid tap');
    const empty = library(
      preparation('opened', 'params: { covers: {} }\nsteps:\n  - remove: $covers\n  - inspect: y\n'),
      procedure('top', 'needs: [opened]\nsteps:\n  - inspect: x\n'),
    );
    expect(order(empty, ['top'])).toEqual(['inspect y', 'inspect x']);
  });

  it('that name what has nothing to tighten or loosen leave nothing to do', () => {
    const opened = library(
      preparation(
        'opened',
        'params: { things: {} }\nsteps:\n  - loosen: $things\n  - remove: $things\nclose-up:\n  - fit: $things\n  - tighten: $things\n  - tighten: $things\n    wheels: on-ground\n',
      ),
      procedure('both', 'needs: [opened: [tap, wheel]]\nsteps:\n  - inspect: x\n'),
      procedure('tray', 'needs: [opened: [tray]]\nsteps:\n  - inspect: x\n'),
      procedure('tap', 'needs: [opened: [tap]]\nsteps:\n  - inspect: x\n'),
      procedure('clip', 'needs: [opened: [hose]]\nsteps:\n  - inspect: x\n'),
      procedure('filter', 'needs: [opened: [filter]]\nsteps:\n  - inspect: x\n'),
      procedure('direct', 'steps:\n  - loosen: tap\n  - tighten: tap\n'),
    );
    expect(order(opened, ['both'])).toEqual([
      'loosen wheel',
      'remove tap wheel',
      'inspect x',
      'fit tap wheel',
      'tighten wheel',
      'tighten wheel',
    ]);
    expect(order(opened, ['tray'])).toEqual(['loosen tray', 'remove tray', 'inspect x', 'fit tray', 'tighten tray']);
    expect(order(opened, ['tap'])).toEqual(['remove tap', 'inspect x', 'fit tap']);
    const tightened = planned(opened, ['tray']).steps.filter(({ verb }) => verb === 'tighten');
    expect(tightened.map(({ step }) => step.wheels)).toEqual([undefined]);
    // A stage that is asked for by its number is done where the step says.
    const inTurn = library(
      preparation(
        'opened',
        'params: { things: {} }\nsteps:\n  - remove: $things\nclose-up:\n  - fit: $things\n  - tighten: $things\n    stages: [1]\n  - tighten: $things\n    stages: [2]\n    wheels: on-ground\n',
      ),
      procedure('cap', 'needs: [opened: [cap]]\nsteps:\n  - inspect: x\n'),
    );
    expect(order(inTurn, ['cap'])).toEqual(['remove cap', 'inspect x', 'fit cap', 'tighten cap', 'tighten cap']);
    // A clip is loosened, and has no torque.
    expect(order(opened, ['clip'])).toEqual(['loosen hose', 'remove hose', 'inspect x', 'fit hose']);
    // What is turned by hand is closed once.
    expect(order(opened, ['filter'])).toEqual(['loosen filter', 'remove filter', 'inspect x', 'fit filter', 'tighten filter']);
    // What is written out stays.
    expect(order(opened, ['direct'])).toEqual(['loosen tap', 'tighten tap']);
  });
});

describe('variants', () => {
  const made = library(
    procedure(
      'top',
      'steps:\n  - inspect: a\n    when: { engine: A }\n  - inspect: b\n    when: { engine: B }\n  - inspect: either\n    when: { engine: [A, B] }\n  - inspect: both\n    when: { engine: A, gearbox: M }\n  - inspect: all\n',
    ),
  );

  it('leave out the steps of others, and keep what is not known as a condition', () => {
    expect(order(made, ['top'], { engine: 'A', gearbox: 'M' })).toEqual(['inspect a', 'inspect either', 'inspect both', 'inspect all']);
    expect(order(made, ['top'], { engine: 'B' })).toEqual(['inspect b', 'inspect either', 'inspect all']);
    const conditions = (facts: Facts) => planned(made, ['top'], facts).steps.map(({ objects, conditional }) => [objects[0], conditional]);
    expect(conditions({ engine: 'A' })).toEqual([
      ['a', null],
      ['either', null],
      ['both', [{ gearbox: 'M' }]],
      ['all', null],
    ]);
    expect(conditions({}).filter(([, conditional]) => conditional !== null).length).toBe(4);
    expect(conditions({})[3]).toEqual(['both', [{ engine: 'A', gearbox: 'M' }]]);
  });

  it('of a list of conditions any is enough; what of it is known leaves the rest, or settles it', () => {
    const gap = 'limit: max 0.5 mm, resolution: 0.1 mm, with: feeler gauges, outside: Renew it. }';
    const any = library(
      procedure(
        'top',
        `measurements: { inlet: { name: inlet, ${gap}, exhaust: { name: exhaust, ${gap} }
steps:
  - measure: [inlet, exhaust]
  - inspect: a
    when: [{ inlet: outside }, { exhaust: outside }]
  - inspect: b
    when: [{ engine: B }, { engine: A, inlet: outside }]
`,
      ),
    );
    const conditions = (facts: Facts) =>
      planned(any, ['top'], facts)
        .steps.slice(1)
        .map(({ objects, conditional }) => [objects[0], conditional]);
    const either = [{ inlet: 'outside' }, { exhaust: 'outside' }];
    expect(conditions({ engine: 'A' })).toEqual([
      ['a', either],
      ['b', [{ inlet: 'outside' }]],
    ]);
    expect(conditions({ engine: 'B' })).toEqual([
      ['a', either],
      ['b', null],
    ]);
    expect(conditions({ engine: 'A', inlet: 'inside' })).toEqual([['a', [{ exhaust: 'outside' }]]]);
    expect(conditions({ engine: 'A', inlet: 'outside' })).toEqual([
      ['a', null],
      ['b', null],
    ]);
    expect(conditions({ engine: 'A', inlet: 'inside', exhaust: 'inside' })).toEqual([]);
    // Every combination of both is a branch.
    const plan = planned(any, ['top'], { engine: 'A' });
    expect(outcomesOf(plan.steps, plan)).toHaveLength(4);
  });
});

describe('the order', () => {
  it('openings, work, close-ups, then the moments of the finals', () => {
    const made = library(
      preparation(
        'helper',
        'steps:\n  - remove: lid\nclose-up:\n  - fit: lid\nfinal:\n  running:\n    - inspect: r1\n  road:\n    - inspect: d1\n',
      ),
      procedure(
        'top',
        'needs: [helper]\nsteps:\n  - inspect: w\nclose-up:\n  - inspect: c\nfinal:\n  running:\n    - start: engine\n    - inspect: r2\n  ground:\n    - inspect: g\n  cooled:\n    - inspect: k\n',
      ),
    );
    const { steps } = planned(made, ['top']);
    expect(steps.map((step) => `${step.section} ${step.moment ?? ''} ${says(step)}`.replace('  ', ' '))).toEqual([
      'preparation remove lid',
      'work inspect w',
      'close-up inspect c',
      'close-up fit lid',
      'final running start engine',
      'final running inspect r2',
      'final running inspect r1',
      'final ground inspect g',
      'final cooled inspect k',
      'final road inspect d1',
    ]);
    const top = made.procedures.get('top');
    const written = top && writtenIn(top);
    expect(written?.all.map(({ moment, verb, names }) => [moment, verb, ...names])).toEqual([
      [null, 'inspect', 'w'],
      [null, 'inspect', 'c'],
      ['running', 'start', 'engine'],
      ['running', 'inspect', 'r2'],
      ['ground', 'inspect', 'g'],
      ['cooled', 'inspect', 'k'],
    ]);
    expect([written?.steps, ...(written?.chains ?? [])].map((list) => list?.length)).toEqual([1, 1, 2, 1, 1, 0]);
  });

  it('of close-ups: the one opened last goes first, and waits for what another will still close', () => {
    const made = library(
      preparation('a', 'steps:\n  - remove: tray\nclose-up:\n  - fit: tray\n  - tighten: tray\n'),
      preparation('b', 'needs: [a]\nsteps:\n  - remove: pump\nclose-up:\n  - fit: pump\n'),
      preparation('c', 'needs: [a]\nsteps:\n  - drain: coolant\n  - remove: hose\nclose-up:\n  - fill: coolant\n'),
      preparation('d', 'needs: [c]\nsteps:\n  - inspect: y\nclose-up:\n  - fit: hose\n  - inspect: z\n'),
      procedure('top', 'needs: [b, d]\nsteps:\n  - inspect: x\n'),
      procedure('alone', 'needs: [c]\nsteps:\n  - inspect: x\n'),
    );
    expect(order(made, ['top'])).toEqual([
      'remove tray',
      'remove pump',
      'drain coolant',
      'remove hose',
      'inspect y',
      'inspect x',
      'fit hose',
      'inspect z',
      'fill coolant',
      'fit pump',
      'fit tray',
      'tighten tray',
    ]);
    // Nobody else closes the hose: it does not wait for ever, and the walk tells it.
    expect(order(made, ['alone'])).toEqual([
      'remove tray',
      'drain coolant',
      'remove hose',
      'inspect x',
      'fill coolant',
      'fit tray',
      'tighten tray',
    ]);
    expect(planned(made, ['alone']).walk.problems.map(({ kind }) => kind)).toEqual(['left-open']);
  });

  it('waits for a deed only as long as it is still to come', () => {
    const made = library(
      preparation(
        'a',
        'steps:\n  - drain: coolant\n  - remove: hose\nclose-up:\n  - fit: hose\n  - inspect: a2\n  - remove: hose\n  - inspect: a3\n',
      ),
      preparation('b', 'steps:\n  - inspect: b1\nclose-up:\n  - fill: coolant\n'),
      procedure('top', 'needs: [a, b]\nsteps:\n  - inspect: x\n'),
    );
    expect(order(made, ['top']).slice(4)).toEqual(['fit hose', 'fill coolant', 'inspect a2', 'remove hose', 'inspect a3']);
    const twice = library(
      preparation(
        'a',
        'steps:\n  - drain: coolant\n  - remove: [hose, tap]\nclose-up:\n  - fit: hose\n  - remove: hose\n  - fit: tap\n  - inspect: a3\n',
      ),
      preparation('b', 'steps:\n  - inspect: b1\nclose-up:\n  - fill: coolant\n'),
      procedure('top', 'needs: [a, b]\nsteps:\n  - inspect: x\n'),
    );
    expect(order(twice, ['top']).slice(4)).toEqual(['fit hose', 'remove hose', 'fit tap', 'fill coolant', 'inspect a3']);
    // It does not wait for what only it will do itself.
    const own = library(
      preparation('a', 'steps:\n  - inspect: a1\nclose-up:\n  - inspect: a2\n  - inspect: a3\n'),
      preparation('b', 'steps:\n  - remove: hose\nclose-up:\n  - fill: coolant\n  - fit: hose\n'),
      procedure('top', 'needs: [a, b]\nsteps:\n  - inspect: x\n'),
    );
    expect(order(own, ['top']).slice(3)).toEqual(['fill coolant', 'fit hose', 'inspect a2', 'inspect a3']);
    // Two that wait for each other: the first goes, so that none is lost.
    const stuck = library(
      preparation('a', 'steps:\n  - remove: hose\nclose-up:\n  - fill: coolant\n  - fit: hose\n'),
      preparation('b', 'steps:\n  - remove: tap\nclose-up:\n  - fill: coolant\n  - fit: tap\n'),
      procedure('top', 'needs: [a, b]\nsteps:\n  - inspect: x\n'),
    );
    expect(order(stuck, ['top']).sort()).toEqual([
      'fill coolant',
      'fill coolant',
      'fit hose',
      'fit tap',
      'inspect x',
      'remove hose',
      'remove tap',
    ]);
  });

  it('cranks for oil before any document starts the engine, and waits for no cranking after a start', () => {
    const running = (...steps: readonly string[]) =>
      `steps:\n  - inspect: x\nfinal:\n  running:\n${steps.map((step) => `    - ${step}: engine\n`).join('')}`;
    const of = (oil: readonly string[], other: readonly string[]) =>
      order(library(preparation('oil', running(...oil)), procedure('top', `needs: [oil]\n${running(...other)}`)), ['top']).slice(2);
    expect(of(['crank'], ['start', 'run', 'stop'])).toEqual(['crank engine', 'start engine', 'run engine', 'stop engine']);
    expect(of(['run'], ['crank', 'start'])).toEqual(['crank engine', 'start engine', 'run engine']);
    // Two that wait for each other.
    expect(of(['start', 'stop', 'crank'], ['start', 'stop', 'crank'])).toHaveLength(6);
  });

  it('what is measured while the engine is cranked is not put off until another document has started it', () => {
    const volts = 'measurements: { volts: { name: volts, limit: min 9.6 V, with: meter, resolution: 0.1 V, outside: Charge it. } }\n';
    const of = (...own: readonly string[]) => {
      const steps = own.map((step) => `    - ${step}\n`).join('');
      const top = procedure('top', `needs: [run]\n${volts}steps:\n  - inspect: x\nfinal:\n  running:\n${steps}`);
      const made = library(preparation('run', 'steps:\n  - inspect: y\nfinal:\n  running:\n    - start: engine\n'), top);
      const told = checkLibrary(made).filter(({ rule }) => rule === 'order/engine-not-started');
      return [...order(made, ['top']).slice(2), told.length];
    };
    expect(of('crank: engine', 'measure: volts', 'inspect: lamp', 'inspect: z')).toEqual([
      ...['crank engine', 'measure volts', 'inspect lamp', 'inspect z', 'start engine'],
      0,
    ]);
    // Something else is done between: then it is meant with the engine running.
    expect(of('crank: engine', 'clean: plug', 'measure: volts')).toEqual([
      'crank engine',
      'clean plug',
      'start engine',
      'measure volts',
      0,
    ]);
    expect(of('measure: volts')).toEqual(['start engine', 'measure volts', 0]);
  });

  it('looks at a system with the ignition on, and measures before one is energised', () => {
    const off = preparation('off', 'steps:\n  - switch-off: ignition\nfinal:\n  running:\n    - switch-on: ignition\n');
    const of = (work: string) => order(library(off, procedure('top', `needs: [off]\n${work}`)), ['top']);
    expect(of('steps:\n  - inspect: x\nfinal:\n  running:\n    - check: warning-lamps\n')).toEqual([
      ...['switch-off ignition', 'inspect x', 'switch-on ignition', 'check warning-lamps'],
    ]);
    expect(of('steps:\n  - drain: oil\nclose-up:\n  - fill: oil\nfinal:\n  running:\n    - bleed: oil\n').slice(2)).toEqual([
      ...['fill oil', 'switch-on ignition', 'bleed oil'],
    ]);
    const live = of('steps:\n  - isolate: pack\nfinal:\n  running:\n    - measure: insulation\n    - energise: pack\n    - check: lamps\n');
    expect(live.slice(2)).toEqual(['measure insulation', 'energise pack', 'switch-on ignition', 'check lamps']);
  });

  it('looks at what is to be seen on the ground when the vehicle is down, and before a system is energised', () => {
    const up = preparation('up', 'steps:\n  - raise: vehicle\nfinal:\n  ground:\n    - lower: vehicle\n');
    const of = (...documents: readonly string[]) => order(library(up, ...documents), ['top']);
    const top = (work: string) => procedure('top', `needs: [up]\n${work}`);
    expect(of(top('steps:\n  - clean: shoes\nfinal:\n  ground:\n    - test: pedal\n'))).toEqual([
      ...['raise vehicle', 'clean shoes', 'lower vehicle', 'test pedal'],
    ]);
    // What goes on from beneath goes on before; a document that lowers it itself says when it looks.
    expect(of(top('steps:\n  - remove: tray\nfinal:\n  ground:\n    - fit: tray\n'))).toEqual([
      ...['raise vehicle', 'remove tray', 'fit tray', 'lower vehicle'],
    ]);
    const alone = 'steps:\n  - raise: vehicle\nfinal:\n  ground:\n    - check: level\n    - lower: vehicle\n';
    expect(order(library(procedure('top', alone)), ['top'])).toEqual(['raise vehicle', 'check level', 'lower vehicle']);
    const live = 'steps:\n  - isolate: pack\nfinal:\n  ground:\n    - measure: insulation\n    - energise: pack\n    - test: lamps\n';
    expect(of(top(live)).slice(2)).toEqual(['measure insulation', 'energise pack', 'lower vehicle', 'test lamps']);
  });

  it('opens first what has the engine run: after what switches it off, or takes it apart, it could not', () => {
    const oil = preparation(
      'oil-warm',
      'needs: [received]\nsteps:\n  - start: engine\n  - stop: engine\n  - remove: filter\nclose-up:\n  - fit: filter\n',
    );
    const of = (...documents: readonly string[]) => order(library(oil, cold, trayOff, ...documents), ['other', 'service']);
    const received = preparation('received', 'steps:\n  - confirm: vehicle\n');
    const service = procedure('service', 'needs: [oil-warm]\nsteps:\n  - inspect: s\n');
    const other = procedure('other', 'needs: [received, tray-off, cold]\nsteps:\n  - inspect: o\n');
    expect(of(received, service, other).slice(0, 8)).toEqual([
      ...['confirm vehicle', 'start engine', 'stop engine', 'remove filter'],
      ...['remove tray', 'switch-off ignition', 'inspect o', 'inspect s'],
    ]);
    // What it needs itself still comes before it.
    expect(of(preparation('received', 'needs: [tray-off]\nsteps:\n  - confirm: vehicle\n'), service, other).slice(0, 5)).toEqual([
      ...['remove tray', 'confirm vehicle', 'start engine', 'stop engine', 'remove filter'],
    ]);
    // What only looks and reads stays where it is asked for; what is measured is meant as it is after the run.
    const asking = (...needs: readonly string[]) => procedure('other', `needs: [${needs.join(', ')}]\nsteps:\n  - inspect: o\n`);
    const looked = preparation('looked', 'steps:\n  - read: codes\n');
    const gauged = preparation('gauged', 'steps:\n  - measure: oil-level\n');
    expect(of(received, looked, gauged, service, asking('looked', 'gauged', 'tray-off')).slice(0, 7)).toEqual([
      ...['confirm vehicle', 'read codes', 'start engine', 'stop engine', 'remove filter', 'measure oil-level', 'remove tray'],
    ]);
    const behindTray = preparation('looked', 'needs: [tray-off]\nsteps:\n  - read: codes\n');
    expect(of(received, behindTray, service, asking('looked')).slice(0, 6)).toEqual([
      ...['confirm vehicle', 'start engine', 'stop engine', 'remove filter', 'remove tray', 'read codes'],
    ]);
    // The work itself comes after all preparations, and the walk tells what is in its way.
    const running = procedure('service', 'steps:\n  - start: engine\n  - stop: engine\n');
    expect(of(received, running, other).slice(0, 6)).toEqual([
      ...['confirm vehicle', 'remove tray', 'switch-off ignition', 'inspect o', 'start engine', 'stop engine'],
    ]);
  });

  it('confirms which vehicle it is before anything else, where nothing else is needed for that', () => {
    const release = preparation('fuel-off', 'steps:\n  - start: engine\n  - stop: engine\n');
    const service = procedure('service', 'needs: [fuel-off, tray-off, received]\nsteps:\n  - inspect: s\n');
    const of = (received: string) => order(library(release, trayOff, service, preparation('received', received)), ['service']).slice(0, 4);
    expect(of('steps:\n  - confirm: vehicle\n  - read: codes\n')).toEqual(['confirm vehicle', 'read codes', 'start engine', 'stop engine']);
    // What confirms something else, or does something else with the vehicle, stays where it is asked for,
    for (const other of ['confirm: key', 'inspect: vehicle']) expect(of(`steps:\n  - ${other}\n`)[0], other).toBe('start engine');
    // and so does one that opens something as well, one that needs something first, and the work itself.
    expect(of('steps:\n  - confirm: vehicle\n  - open: bonnet\nclose-up:\n  - close: bonnet\n')[0]).toBe('start engine');
    expect(of('needs: [tray-off]\nsteps:\n  - confirm: vehicle\n')[0]).toBe('start engine');
    const work = procedure('service', 'needs: [fuel-off]\nsteps:\n  - confirm: vehicle\n');
    expect(order(library(release, work), ['service'])).toEqual(['start engine', 'stop engine', 'confirm vehicle']);
  });

  it('does the steps of a partial change as often as the new share asks', () => {
    // 80 % new with half of it changed each time: 50, 75, 87.5 %.
    const made = library(
      procedure('change', 'repeat: coolant\nsteps:\n  - drain: coolant\n  - fill: coolant\nclose-up:\n  - inspect: level\n'),
      procedure('flush', 'needs: [change]\nsteps:\n  - inspect: x\n'),
    );
    expect(order(made, ['change'])).toEqual([
      ...['drain coolant', 'fill coolant', 'drain coolant', 'fill coolant', 'drain coolant', 'fill coolant'],
      'inspect level',
    ]);
    const { steps } = planned(made, ['change']);
    expect(new Set(steps).size).toBe(steps.length);
    // What only helps is done once.
    expect(order(made, ['flush'])).toEqual(['drain coolant', 'fill coolant', 'inspect x', 'inspect level']);
    const outline = outlineOf(cast(made, 'change'), {});
    expect(outline.steps.map(says)).toEqual(order(made, ['change']));
  });

  it('knows what comes off: its joints need no tightening of their own', () => {
    const made = library(
      procedure(
        'top',
        'steps:\n  - loosen: wheel\n  - remove: wheel\nclose-up:\n  - fit: wheel\n  - tighten: wheel\n  - tighten: wheel\n    wheels: on-ground\n',
      ),
    );
    expect(planned(made, ['top']).walk.problems).toEqual([]);
    expect(planned(made, ['top']).walk.lines.map(({ pair }) => pair)).toEqual(['remove']);
  });
});

describe('the combinations of what is not known', () => {
  const named = (count: number, values: readonly string[]) =>
    Object.fromEntries(Array.from({ length: count }, (_, n) => [`m${n}`, { values }]));
  const of = (features: ReturnType<typeof named>, most?: number) => combinations(features, [...Object.keys(features), 'unknown'], most);
  const says = (facts: Facts) => Object.entries(facts).flatMap(([name, value]) => (value === 'in' ? [] : [`${name} ${value}`]));

  it('are all of them, while they are few', () => {
    expect(of({})).toEqual([{}]);
    expect(of(named(2, ['in', 'out']), 4)).toEqual([
      { m0: 'in', m1: 'in' },
      { m0: 'in', m1: 'out' },
      { m0: 'out', m1: 'in' },
      { m0: 'out', m1: 'out' },
    ]);
    expect(of(named(5, ['in', 'out']), 32)).toHaveLength(32);
    expect(new Set(of(named(4, ['a', 'b', 'c', 'd'])).map((one) => JSON.stringify(one))).size).toBe(256);
  });

  it('are those that tell most where they are more: each value, then each alone, then every two', () => {
    const names = Array.from({ length: 9 }, (_, n) => `m${n}`);
    const some = of(named(9, ['in', 'low', 'high']), 32).map(says);
    expect(some).toHaveLength(32);
    expect(some.slice(0, 3)).toEqual([[], names.map((name) => `${name} low`), names.map((name) => `${name} high`)]);
    expect(some.slice(3, 21)).toEqual(names.flatMap((name) => [[`${name} low`], [`${name} high`]]));
    expect(some.slice(21, 23)).toEqual([
      ['m0 low', 'm1 low'],
      ['m0 low', 'm1 high'],
    ]);
    for (const two of some.slice(21)) expect(new Set(two.map((one) => one.split(' ')[0])).size).toBe(2);
    // However many there are, no value is left out.
    const many = of(named(500, ['in', 'out']), 32);
    expect(many).toHaveLength(32);
    expect(Object.values(many[1] ?? {})).toEqual(Array.from({ length: 500 }, () => 'out'));
    // Of two that have not as many values the fewer are gone through again.
    const uneven = of({ ...named(1, ['in', 'low', 'high']), ...named(0, []), big: { values: ['in', 'out'] } }, 3).map(says);
    expect(uneven).toEqual([[], ['m0 low', 'big out'], ['m0 high']]);
  });

  it('so a step of the first of many readings is walked as one of the last', () => {
    const names = Array.from({ length: 8 }, (_, n) => `m${n}`);
    for (const bad of names) {
      const steps = names.map((name) => `  - ${name === bad ? 'remove: lid' : `inspect: ${name}`}\n    when: { ${name}: outside }\n`);
      const readings = names.map((name) => `  ${name}: { name: ${name}, limit: max 1 mm, with: gauge, outside: Stop. }\n`);
      const text = `kind: procedure\nid: many\nname: Many\nfor: van\nmeasurements:\n${readings.join('')}steps:\n${names.map((name) => `  - measure: ${name}\n`).join('')}${steps.join('')}`;
      const library = libraryOf({ '/shop/van.yaml': van, '/shop/many.yaml': text });
      expect(
        checkLibrary(library).filter(({ rule }) => rule === 'ledger/left-open'),
        bad,
      ).toHaveLength(1);
    }
  });
});

describe('any work of the demo with any other on the same vehicle', () => {
  const texts = demoTexts();
  const one = (text: string, key: string) => new RegExp(`^${key}: (\\S+)`, 'm').exec(text)?.[1] ?? '';
  const works = new Map<string, string[]>();
  for (const text of Object.values(texts))
    if (/^kind: (procedure|preparation)$/m.test(text) && one(text, 'for') !== '')
      works.set(one(text, 'for'), [...(works.get(one(text, 'for')) ?? []), one(text, 'id')]);
  const orders = new Map(Object.entries(texts).flatMap(([name, text]) => (name.includes('/jobs/') ? [[one(text, 'vehicle'), text]] : [])));
  const pairs = [...works].flatMap(([vehicle, ids]) => ids.flatMap((a) => ids.flatMap((b) => (a === b ? [] : [[vehicle, a, b] as const]))));

  it('is planned without a fault, in either order, also where one needs the other', () => {
    expect(pairs.length).toBeGreaterThan(60);
    for (const [vehicle, ...work] of pairs) {
      const order = (orders.get(vehicle) ?? '')
        .replace(/^id: .*/m, 'id: both')
        .replace(/^work: .*/m, `work: [${work.join(', ')}]`)
        .replace(/^(renew|alternatives|access|codes):.*\n( .*\n)*/gm, '');
      const library = libraryOf({ ...texts, '/shop/jobs/both.yaml': order });
      const { foundIn } = new Checker().checkSome(library, ({ card }) => card?.id === 'both');
      const wrong = library.files.flatMap(foundIn).filter(({ severity }) => severity === 'error');
      expect(
        wrong.map(({ rule, message }) => `${rule} ${message}`),
        work.join(' and '),
      ).toEqual([]);
      const job = compiled(library, 'both');
      expect(new Set(job.labour.operations.map(({ id }) => id)).size).toBe(job.labour.operations.length);
      expect(contradictionsIn(job), work.join(' and ')).toEqual([]);
    }
  });

  it('a preparation that is asked for and needed opens where it is needed, as what is only needed', () => {
    const order = (orders.get('tarrock-35') ?? '').replace(/^work: .*/m, 'work: [timing-belt, undertray-off, belt-end-open]');
    const library = libraryOf({ ...texts, '/shop/jobs/2041-head-gasket.yaml': order });
    const job = library.jobs.get('2041-head-gasket');
    const plan = job && planJob(library, job);
    const ids = plan?.participants.map(({ document }) => document.id) ?? [];
    expect(ids.at(-1)).toBe('timing-belt');
    expect(ids.indexOf('belt-end-open')).toBeLessThan(ids.indexOf('timing-belt-off'));
    expect(new Set(plan?.steps.filter(({ section }) => section === 'work').map(({ participant }) => participant.document.id))).toEqual(
      new Set(['timing-belt']),
    );
  });
});
