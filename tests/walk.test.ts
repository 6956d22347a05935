// The gates and the walk of the ledger, step by step: what must be closed before which action, and what a procedure owes.
// What must be closed before an action is common practice, no source; each case is one that hurts somebody or something.
import { describe, expect, it } from 'vitest';
import { runningSince } from '../src/ledger/engine.js';
import { isGate, isGateByTable, standingInTheWay } from '../src/ledger/gates.js';
import { lineName, linesOf, newLine } from '../src/ledger/ledger.js';
import { type Pair, type VerbName, verbOf } from '../src/ledger/verbs.js';
import { jointsNamed, jointsOfStep, stagesOfStep } from '../src/ledger/joints.js';
import { safeToLeave } from '../src/ledger/safe.js';
import { deedsOf } from '../src/ledger/deeds.js';
import type { Problem } from '../src/ledger/problem.js';
import { ledgerFor, staysChanged, type Walk } from '../src/ledger/walk.js';
import type { Scope } from '../src/library/scope.js';
import type { PlanStep } from '../src/plan/plan.js';
import type { Fastener, Part, Stage, Step, Temporary } from '../src/schema/generated/types.js';

interface Names {
  readonly parts?: Readonly<Record<string, Partial<Part>>>;
  readonly temporaries?: Readonly<Record<string, Partial<Temporary>>>;
  readonly fasteners?: Readonly<Record<string, Partial<Fastener>>>;
}

const scopeOf = ({ parts = {}, temporaries = {}, fasteners = {} }: Names): Scope =>
  ({
    parts: new Map(Object.entries(parts)),
    temporaries: new Map(Object.entries(temporaries)),
    fasteners: new Map(Object.entries(fasteners)),
    fluids: new Map(),
    charges: new Map(),
    measurements: new Map(),
    choices: new Map(),
    vehicle: null,
    things: {},
  }) as unknown as Scope;

const stepIn = (scope: Scope, leftChanged?: Readonly<Record<string, string>>) => {
  const participant = { document: { kind: 'procedure', id: 'p', 'left-changed': leftChanged }, scope, params: {} };
  return (verb: VerbName, objects: string | readonly string[], more: Partial<Step> = {}): PlanStep => {
    const step = { [verb]: objects, ...more } as Step;
    const names = typeof objects === 'string' ? [objects] : objects;
    return {
      participant,
      section: 'work',
      moment: null,
      step,
      verb,
      objects: names,
      does: verbOf(verb),
      lines: linesOf(verbOf(verb), names),
      gate: isGate(scope, step, verb),
      conditional: null,
    } as unknown as PlanStep;
  };
};

const vehicle: Names = {
  parts: {
    battery: { role: 'battery' },
    belt: { role: 'belt' },
    wheel: { role: 'wheel' },
    cap: { role: 'fill-point', circuit: 'coolant' },
    hose: { circuit: ['coolant', 'heating'] },
    sump: { circuit: 'oil' },
    cover: {},
    coolant: { circuit: 'coolant' },
    mount: { carries: 'engine' },
    case: { beneath: true, mass: { text: '40 kg' } as Part['mass'] },
    head: { mass: { text: '12 kg' } as Part['mass'] },
    engine: {},
    plate: { 'due-before': ['  turn   engine ', 'energise', 'test'] },
    rocker: { 'due-before': ['crank engine'] },
    'hv-plug': { hazard: 'high-voltage' },
    'gas-filter': { hazard: 'gas' },
    nipple: { circuit: 'brake-fluid', 'may-stay': ['fill brake-fluid'] },
    'parking-brake': { circuit: 'air', 'may-stay': ['  start   engine ', 'energise'] },
  },
  temporaries: {
    rags: {},
    chocks: { 'may-stay': ['start'], 'due-before': ['drive'] },
    gauge: { 'may-stay': ['crank engine', 'nothing of the kind', 'tunr', ''] },
    both: { 'may-stay': ['start engine'], 'due-before': ['crank'] },
    pin: { 'due-before': ['turn'] },
    dial: { 'due-before': ['turn wheel'] },
    stop: { 'while-fitted': 'engine' },
    blade: { 'while-fitted': 'engine', 'due-before': ['turn'] },
  },
};

describe('a gate', () => {
  const scope = scopeOf(vehicle);
  const step = stepIn(scope);
  const opener: Record<string, VerbName> = { loosen: 'loosen' };
  const inTheWay = (
    gate: PlanStep,
    open: readonly (readonly [Pair, string])[],
    off: readonly string[] = [],
    raised: readonly string[] = [],
  ): string[] => {
    const lines = open.map(([pair, object]) => newLine(lineName(pair, object), step(opener[pair] ?? pair, object), null));
    const view = {
      open: lines,
      loose: () => [],
      isOpen: (object: string) => off.includes(object),
      isRaised: (object: string) => raised.includes(object),
    };
    return standingInTheWay(gate, view).lines.map((line) => `${line.pair} ${line.object}`);
  };
  /** Everything that can be open on this vehicle. */
  const all: readonly (readonly [Pair, string])[] = [
    ['remove', 'cover'],
    ['remove', 'belt'],
    ['remove', 'wheel'],
    ['remove', 'hose'],
    ['remove', 'sump'],
    ['open', 'cap'],
    ['disconnect', 'battery'],
    ['drain', 'coolant'],
    ['drain', 'oil'],
    ['raise', 'vehicle'],
    ['loosen', 'cover-bolts@cover'],
    ['support', 'engine'],
    ['compress', 'spring'],
    ['lock', 'crankshaft'],
    ['lock', 'stop'],
    ['place', 'rags'],
    ['place', 'stop'],
    ['switch-off', 'ignition'],
    ['isolate', 'high-voltage'],
    ['move-aside', 'cover'],
  ];
  const temporary = ['support engine', 'compress spring', 'lock crankshaft', 'lock stop', 'place rags', 'place stop'];
  const off = ['switch-off ignition', 'isolate high-voltage'];

  it.each(['crank', 'start'] as const)('%s: fluids in, circuits shut, belt and battery on, nothing left in there', (verb) => {
    expect(inTheWay(step(verb, 'engine'), all).sort()).toEqual(
      [
        'remove belt',
        'remove hose',
        'remove sump',
        'open cap',
        'disconnect battery',
        'drain coolant',
        'drain oil',
        ...temporary,
        ...off,
      ].sort(),
    );
  });

  it('fill: the circuit of this fluid is shut, but for the opening that it is poured into', () => {
    expect(inTheWay(step('fill', 'coolant'), all)).toEqual(['remove hose']);
    expect(inTheWay(step('fill', 'oil'), all)).toEqual(['remove sump']);
    expect(inTheWay(step('fill', ['oil', 'coolant']), all)).toEqual(['remove hose', 'remove sump']);
    expect(inTheWay(step('fill', 'brake-fluid'), all)).toEqual([]);
    // Another fluid that was drained and has a part of its name in this circuit.
    expect(inTheWay(step('fill', 'heating'), [['drain', 'hose']])).toEqual(['drain hose']);
    expect(inTheWay(step('fill', 'coolant'), [['remove', 'coolant']])).toEqual(['remove coolant']);
  });

  it('pressurise: the circuit is shut everywhere, and the fluid is in it', () => {
    expect(inTheWay(step('pressurise', 'coolant'), all)).toEqual(['remove hose', 'open cap', 'drain coolant']);
    expect(inTheWay(step('pressurise', 'oil'), all)).toEqual(['remove sump', 'drain oil']);
    expect(inTheWay(step('pressurise', 'air'), [...all, ['lock', 'air']])).toEqual([]);
  });

  it('test: what is tested is shut, but for the opening that the tester sits on', () => {
    const open = all.filter(([pair]) => pair !== 'drain');
    expect(inTheWay(step('test', 'coolant'), open)).toEqual(['remove hose']);
    expect(inTheWay(step('test', ['oil', 'coolant']), open)).toEqual(['remove hose', 'remove sump']);
    expect(inTheWay(step('test', 'lamps'), all)).toEqual([]);
    expect(loose(step('test', 'coolant'))).toEqual(['hose']);
  });

  it('energise: the ignition is off', () => {
    const mustBeOpen = (gate: PlanStep) =>
      standingInTheWay(gate, { open: [], loose: () => [], isOpen: () => false, isRaised: () => false }).mustBeOpen;
    expect(mustBeOpen(step('energise', 'high-voltage'))).toBe('ignition');
    expect(mustBeOpen(step('energise', 'seat-heater'))).toBeNull();
  });

  it('lower: wheels on, nothing stands below', () => {
    expect(inTheWay(step('lower', 'vehicle'), all)).toEqual(['remove wheel', 'support engine']);
    expect(inTheWay(step('lower', 'vehicle', { wheels: 'on-ground' }), all)).toEqual(['remove wheel', 'support engine']);
  });

  it('energise: locks and what was put in there are out', () => {
    expect(inTheWay(step('energise', 'high-voltage'), all)).toEqual(['lock crankshaft', 'lock stop', 'place rags', 'place stop']);
    // What bears that energy is on, and tight; what bears another does not matter.
    const off: (readonly [Pair, string])[] = [
      ['disconnect', 'hv-plug'],
      ['remove', 'gas-filter'],
      ['loosen', 'gas-filter'],
    ];
    expect(inTheWay(step('energise', 'high-voltage'), off)).toEqual(['disconnect hv-plug']);
    expect(inTheWay(step('energise', 'gas'), off)).toEqual(['remove gas-filter']);
    expect(loose(step('energise', 'gas'))).toEqual(['gas-filter']);
    expect(loose(step('energise', 'seat-heater'))).toEqual([]);
    // A profile may name more; what this very step closes is not in its way.
    expect(inTheWay(step('energise', 'high-voltage'), [['isolate', 'plate']])).toEqual(['isolate plate']);
    expect(inTheWay(step('energise', 'plate'), [['isolate', 'plate']])).toEqual([]);
    expect(inTheWay(step('energise', 'plate'), [['remove', 'plate']])).toEqual(['remove plate']);
    expect(inTheWay(step('test', 'plate'), [['isolate', 'plate']])).toEqual(['isolate plate']);
  });

  it.each(['drive', 'hand-over'] as const)('%s: everything', (verb) => {
    expect(inTheWay(step(verb, 'vehicle'), all)).toEqual(all.map((line) => line.join(' ')));
  });

  it('turn, and what profiles name: only what they name', () => {
    expect(inTheWay(step('turn', 'engine'), all)).toEqual([]);
    const named: (readonly [Pair, string])[] = [
      ['place', 'pin'],
      ['place', 'dial'],
      ['remove', 'plate'],
    ];
    expect(inTheWay(step('turn', 'engine'), named)).toEqual(['place pin', 'remove plate']);
    expect(inTheWay(step('turn', 'wheel'), named)).toEqual(['place pin', 'place dial']);
    expect(inTheWay(step('turn', ['engine', 'wheel']), named)).toEqual(['place pin', 'place dial', 'remove plate']);
    expect(inTheWay(step('test', 'lamp'), named)).toEqual(['remove plate']);
    expect(inTheWay(step('inspect', 'engine'), [...named, ...all])).toEqual([]);
  });

  it('what may stay while a part is off: the engine may be turned, not driven', () => {
    for (const verb of ['turn', 'crank', 'start'] as const)
      expect(inTheWay(step(verb, 'engine'), [['place', 'stop']], ['engine'])).toEqual([]);
    expect(inTheWay(step('crank', 'engine'), [['place', 'stop']], ['cover'])).toEqual(['place stop']);
    expect(inTheWay(step('turn', 'engine'), [['place', 'blade']])).toEqual(['place blade']);
    expect(inTheWay(step('turn', 'engine'), [['place', 'blade']], ['engine'])).toEqual([]);
    expect(inTheWay(step('crank', 'engine'), [['lock', 'stop']], ['engine'])).toEqual(['lock stop']);
    expect(inTheWay(step('drive', 'vehicle'), [['place', 'stop']], ['engine'])).toEqual(['place stop']);
  });

  it('to start is to crank, and to crank is to turn: what must be back before the one must be before the other', () => {
    const off: (readonly [Pair, string])[] = [
      ['remove', 'plate'],
      ['remove', 'rocker'],
      ['remove', 'cover'],
    ];
    expect(inTheWay(step('turn', 'engine'), off)).toEqual(['remove plate']);
    expect(inTheWay(step('crank', 'engine'), off)).toEqual(['remove plate', 'remove rocker']);
    expect(inTheWay(step('start', 'engine'), off)).toEqual(['remove plate', 'remove rocker']);
    expect(inTheWay(step('start', 'heater'), off)).toEqual([]);
  });

  it('what may stay, as the profile says, is in nobody’s way there; where it is due all the same, it is', () => {
    const left: (readonly [Pair, string])[] = [
      ['place', 'chocks'],
      ['place', 'gauge'],
      ['place', 'both'],
      ['lock', 'parking-brake'],
    ];
    expect(inTheWay(step('start', 'engine'), left)).toEqual(['place gauge', 'place both']);
    expect(inTheWay(step('crank', 'engine'), left)).toEqual(['place both']);
    expect(inTheWay(step('turn', 'engine'), left)).toEqual([]);
    expect(inTheWay(step('energise', 'high-voltage'), left)).toEqual(['place chocks', 'place gauge', 'place both']);
    expect(inTheWay(step('drive', 'vehicle'), left)).toEqual(left.map((line) => line.join(' ')));
    // It says so of what is locked, compressed or supported, and not of what is off.
    expect(inTheWay(step('start', 'engine'), [['remove', 'parking-brake']])).toEqual(['remove parking-brake']);
    // What is open may stay so too, where the profile says so; what is off, as the table says.
    expect(inTheWay(step('fill', 'brake-fluid'), [['open', 'nipple']])).toEqual([]);
    expect(inTheWay(step('fill', 'brake-fluid'), [['remove', 'nipple']])).toEqual(['remove nipple']);
    expect(inTheWay(step('pressurise', 'brake-fluid'), [['open', 'nipple']])).toEqual(['open nipple']);
  });

  it('an engine turns over with anything switched off but the ignition, and on stands', () => {
    const others: (readonly [Pair, string])[] = [
      ['switch-off', 'injection'],
      ['switch-off', 'start-stop'],
      ['raise', 'front-axle'],
      ['support', 'front-axle'],
    ];
    for (const verb of ['crank', 'start'] as const) {
      expect(inTheWay(step(verb, 'engine'), others, [], ['front-axle'])).toEqual([]);
      expect(inTheWay(step(verb, 'engine'), others)).toEqual(['support front-axle']);
    }
  });

  it('wheels on the ground: lowered, and the wheels are on', () => {
    expect(inTheWay(step('tighten', 'wheel-bolts', { wheels: 'on-ground' }), all)).toEqual(['remove wheel', 'raise vehicle']);
    expect(inTheWay(step('tighten', 'wheel-bolts'), all)).toEqual([]);
  });

  const loose = (gate: PlanStep): string[] => {
    const fitted = step('fit', 'cover');
    const parts = ['battery', 'belt', 'wheel', 'cap', 'hose', 'sump', 'cover', 'gas-filter', 'unknown'].map((part) => ({
      part,
      fitted,
      onGround: false,
    }));
    return standingInTheWay(gate, { open: [], loose: () => parts, isOpen: () => false, isRaised: () => false }).loose.map(
      ({ part }) => part,
    );
  };

  it('what is on and not tightened stands in the way as if it were off', () => {
    expect(loose(step('crank', 'engine'))).toEqual(['battery', 'belt', 'cap', 'hose', 'sump']);
    expect(loose(step('fill', 'coolant'))).toEqual(['hose']);
    expect(loose(step('fill', ['coolant', 'oil']))).toEqual(['hose', 'sump']);
    expect(loose(step('pressurise', 'coolant'))).toEqual(['cap', 'hose']);
    expect(loose(step('pressurise', ['coolant', 'oil']))).toEqual(['cap', 'hose', 'sump']);
    expect(loose(step('drive', 'vehicle'))).toEqual(['battery', 'belt', 'wheel', 'cap', 'hose', 'sump', 'cover', 'gas-filter', 'unknown']);
    for (const verb of ['turn', 'lower', 'energise', 'connect', 'inspect'] as const) expect(loose(step(verb, 'engine')), verb).toEqual([]);
  });

  it('send: the whole vehicle leaves shut and tight, as when it is driven; a part goes whatever is open', () => {
    const everything = all.map(([pair, object]) => `${pair} ${object}`);
    expect(inTheWay(step('send', 'vehicle'), all)).toEqual(everything);
    expect(inTheWay(step('send', 'cover'), all)).toEqual([]);
    expect(loose(step('send', 'vehicle'))).toEqual(loose(step('drive', 'vehicle')));
    expect(loose(step('send', 'cover'))).toEqual([]);
    const byTable = (verb: VerbName, object: string) => isGateByTable(step(verb, object));
    expect([byTable('drive', 'vehicle'), byTable('send', 'vehicle'), byTable('send', 'cover'), byTable('inspect', 'vehicle')]).toEqual([
      true,
      true,
      false,
      false,
    ]);
  });

  it('connect: the ignition is off when the battery is', () => {
    const mustBeOpen = (gate: PlanStep) =>
      standingInTheWay(gate, { open: [], loose: () => [], isOpen: () => false, isRaised: () => false }).mustBeOpen;
    expect(mustBeOpen(step('connect', 'battery'))).toBe('ignition');
    expect(mustBeOpen(step('connect', ['cover', 'battery']))).toBe('ignition');
    expect(mustBeOpen(step('connect', ['cover', 'nobody-knows']))).toBeNull();
    expect(mustBeOpen(step('disconnect', 'battery'))).toBeNull();
    expect(inTheWay(step('connect', 'battery'), all)).toEqual([]);
  });

  it('is what the table has, what is done on the ground, and what a profile names', () => {
    const gate = (verb: VerbName, more: Partial<Step> = {}, within = scope) => isGate(within, { [verb]: 'x', ...more } as Step, verb);
    expect([gate('crank'), gate('fill'), gate('connect'), gate('turn')]).toEqual([true, true, true, true]);
    expect([gate('tighten'), gate('tighten', { wheels: 'on-ground' })]).toEqual([false, true]);
    expect([gate('test'), gate('inspect'), gate('remove')]).toEqual([true, false, false]);
    const bare = scopeOf({ parts: { cover: {}, plate: { 'due-before': [' ', '  inspect  cover'] } } });
    expect([gate('measure', {}, bare), gate('inspect', {}, bare)]).toEqual([false, true]);
  });
});

const pump: Names = {
  parts: {
    cover: {},
    lid: {},
    pump: { behind: ['cover'], circuit: 'coolant', fasteners: 'pump-bolts' },
    fan: { behind: ['cover'] },
    bracket: { 'held-by': ['pump'], behind: ['lid'] },
    wheel: { role: 'wheel', fasteners: ['wheel-bolts'] },
    hub: { fasteners: ['wheel-bolts', 'axle-nut', 'nobody-knows'] },
    manifold: { fasteners: 'manifold-nuts' },
    head: { fasteners: 'head-bolts' },
    clamp: { role: 'battery', fasteners: 'clamp-nut', count: 2 },
    hose: { circuit: 'coolant', fasteners: 'hose-clip' },
    stray: { behind: ['nobody-knows'] },
  },
  temporaries: { rags: { count: 4 }, cover: { count: 9 } },
  fasteners: {
    'pump-bolts': { stages: [{ torque: 10 }, { angle: 90 }] },
    'wheel-bolts': {
      stages: [{ torque: 50 }, { torque: 105, wheels: 'on-ground' }, { torque: 105, after: 'distance', distance: { text: '50 km' } }],
    },
    'manifold-nuts': {
      stages: [
        { torque: 20 },
        { torque: 28, after: 'run' },
        { torque: 28, after: 'heat-cycle' },
        { angle: 30, after: 'heat-cycle' },
        { torque: 28, after: 'distance', distance: { text: '80 km' } },
        { torque: 28, after: 'distance', distance: { text: '500 km' } },
      ],
    },
    'head-bolts': { stages: [{ torque: 60 }, { angle: 90, after: 'heat-cycle' }] },
    'axle-nut': { stages: [{ torque: 200 }] },
    'clamp-nut': { stages: [{ torque: 5 }] },
    'hose-clip': { method: 'by hand', stages: [{ torque: 3 }] },
    'case-bolts': { stages: [{ torque: 8 }], variants: [{ when: { engine: 'B' }, stages: [{ torque: 8 }, { torque: 12 }] }] },
    drain: {},
  } as unknown as Names['fasteners'],
};

describe('the walk of the ledger', () => {
  const scope = scopeOf(pump);
  const step = stepIn(scope);
  const walk = (steps: readonly PlanStep[], facts = {}): Walk => {
    const ledger = ledgerFor(steps, facts);
    for (const one of steps) ledger.take(one);
    return ledger.finish();
  };
  /** A problem in few words, its steps by their places from 1. */
  const told = (steps: readonly PlanStep[], facts = {}): string[] => {
    const at = (one: PlanStep | null) => (one ? steps.indexOf(one) + 1 : 'never');
    const words = (problem: Problem): string => {
      switch (problem.kind) {
        case 'left-open':
          return `${problem.line.pair} ${problem.line.object} before ${problem.gates.map(at).join(' ')}`;
        case 'late':
          return `${problem.lines.map((line) => line.object).join(' ')} before ${at(problem.gate)}`;
        case 'loose-at-gate':
          return `${problem.part} fitted ${at(problem.fitted)} before ${at(problem.gate)}`;
        case 'interlock':
          return `${problem.object} closed ${at(problem.closed)} at ${at(problem.gate)}`;
        case 'never-opened':
          return `${problem.object} at ${at(problem.step)}`;
        case 'opened-twice':
          return `${problem.line.object} at ${at(problem.step)}`;
        case 'covered':
          return `${problem.object} by ${problem.by.join(' ')} at ${at(problem.step)}`;
        case 'tightened-covered':
          return `${problem.object} by ${problem.cover} since ${at(problem.fitted)} at ${at(problem.step)}`;
        case 'shut-in':
          return `${problem.line.object} by ${problem.object} at ${at(problem.step)}`;
        case 'count':
          return `${problem.line.object} ${problem.found} of ${problem.expected} at ${at(problem.step)}`;
        case 'owed':
          return `${problem.joint.key} stages ${problem.stages.join(' ')} from ${at(problem.fitted)}`;
        case 're-torque-owed':
          return `${problem.joint.key} stages ${problem.stages.join(' ')} after ${problem.after} from ${at(problem.fitted)}`;
        case 're-torque-none':
          return `${problem.joint.key} at ${at(problem.step)}`;
        case 're-torque-early':
          return `${problem.joint.key} after ${problem.after} at ${at(problem.step)}`;
        case 'tightened-again':
          return `${problem.joint.key} at ${at(problem.first)} and ${at(problem.step)}`;
        case 'out-of-turn':
          return `${problem.joint.key} stage ${problem.stage} at ${at(problem.step)} after ${at(problem.later)}`;
        case 'not-in-place':
          return `${problem.temporary} at ${at(problem.step)}`;
        case 'not-running':
          return problem.stopped ? `at ${at(problem.step)} after ${at(problem.stopped)}` : `at ${at(problem.step)}`;
      }
    };
    return walk(steps, facts).problems.map((problem) => `${problem.kind}: ${words(problem)}`);
  };
  const off = step('remove', 'cover');
  const on = step('fit', 'cover');

  it('is balanced where all that was opened is closed', () => {
    const walked = walk([off, step('remove', 'pump'), step('fit', 'pump'), step('tighten', 'pump'), on]);
    expect(walked.problems).toEqual([]);
    expect(walked.lines.map((line) => [line.pair, line.object, line.opened.verb, line.closed?.verb])).toEqual([
      ['remove', 'cover', 'remove', 'fit'],
      ['remove', 'pump', 'remove', 'fit'],
    ]);
  });

  it('tells what is left open, and before which gates it was due', () => {
    expect(told([off])).toEqual(['left-open: remove cover before ']);
    expect(told([off, step('drive', 'vehicle'), step('hand-over', 'vehicle')])).toEqual(['left-open: remove cover before 2 3']);
    expect(told([step('place', 'rags'), step('lock', 'cam')])).toEqual(['left-open: place rags before ', 'left-open: lock cam before ']);
  });

  it('tells what is closed late, once, at the first gate that it was due before', () => {
    const lid = [step('remove', 'lid'), step('fit', 'lid')] as const;
    expect(told([off, lid[0], step('drive', 'vehicle'), step('hand-over', 'vehicle'), lid[1], on])).toEqual(['late: cover lid before 3']);
    expect(told([off, step('drive', 'vehicle'), lid[0], on, step('hand-over', 'vehicle'), lid[1]])).toEqual([
      'late: cover before 2',
      'late: lid before 5',
    ]);
    expect(told([off, on, step('drive', 'vehicle')])).toEqual([]);
  });

  it('tells what is closed and was never opened, and what is opened twice', () => {
    expect(told([on])).toEqual(['never-opened: cover at 1']);
    expect(told([off, on, step('fit', 'cover')])).toEqual(['never-opened: cover at 3']);
    expect(told([off, step('remove', 'cover'), step('remove', 'cover'), on])).toEqual([
      'opened-twice: cover at 2',
      'opened-twice: cover at 3',
    ]);
    expect(told([step('disconnect', 'lid'), step('fit', 'lid'), step('connect', 'lid')])).toEqual(['never-opened: lid at 2']);
    // What should have been closed before is told at the gate, and once.
    const again = step('remove', 'cover');
    expect(told([off, step('drive', 'vehicle'), again, on])).toEqual(['late: cover before 2']);
    expect(told([off, again, step('drive', 'vehicle'), on])).toEqual(['opened-twice: cover at 2', 'late: cover before 3']);
  });

  it('counts what goes in and comes out', () => {
    const count = (into: PlanStep, out: PlanStep) => told([into, out]);
    expect(count(step('place', 'rags'), step('clear', 'rags', { count: 3 }))).toEqual(['count: rags 3 of 4 at 2']);
    expect(count(step('place', 'rags', { count: 3 }), step('clear', 'rags', { count: 3 }))).toEqual([]);
    expect(count(step('place', 'rags'), step('clear', 'rags'))).toEqual([]);
    expect(count(step('place', 'dial'), step('clear', 'dial', { count: 3 }))).toEqual([]);
    expect(count(step('remove', 'lid', { count: 2 }), step('fit', 'lid', { count: 1 }))).toEqual(['count: lid 1 of 2 at 2']);
    // A part and a temporary item may have one name.
    expect(count(step('place', 'cover'), step('clear', 'cover', { count: 8 }))).toEqual(['count: cover 8 of 9 at 2']);
    expect(count(off, step('fit', 'cover', { count: 8 }))).toEqual([]);
    expect(walk([step('disconnect', 'clamp')]).lines[0]?.count).toBe(2);
  });

  it('a wrench does not reach what a cover hides that is back on', () => {
    const pumpOff = [off, step('remove', 'pump')];
    const tighten = step('tighten', 'pump-bolts');
    expect(told([...pumpOff, step('fit', 'pump'), on, tighten])).toEqual(['tightened-covered: pump-bolts by cover since 4 at 5']);
    expect(told([...pumpOff, step('fit', 'pump'), on, step('tighten', 'pump')])).toEqual(['tightened-covered: pump by cover since 4 at 5']);
    // A cover that comes off again, or that was never off, is in nobody's way.
    expect(told([...pumpOff, step('fit', 'pump'), on, off, tighten, on])).toEqual([]);
    expect(told([step('loosen', 'pump-bolts'), tighten])).toEqual([]);
    expect(told([step('place', 'cover'), step('clear', 'cover'), step('loosen', 'pump-bolts'), tighten])).toEqual([]);
    // On the ground much is tightened past what hides it in the air.
    expect(told([...pumpOff, step('fit', 'pump'), on, step('tighten', 'pump-bolts', { wheels: 'on-ground' })])).toEqual([]);
    for (const [role, problems] of [
      ['wheel', 0],
      ['belt', 0],
      ['fill-point', 1],
    ] as const) {
      const others = stepIn(scopeOf({ ...pump, parts: { ...pump.parts, cover: { role } } }));
      const steps = [
        others('remove', 'cover'),
        others('remove', 'pump'),
        others('fit', 'pump'),
        others('fit', 'cover'),
        others('tighten', 'pump'),
      ];
      expect(walk(steps).problems.filter(({ kind }) => kind === 'tightened-covered')).toHaveLength(problems);
    }
  });

  it('what a step needs must be in: by its joint, by the part that it holds, or at any such step', () => {
    const names = scopeOf({
      ...pump,
      temporaries: {
        mandrel: { 'needed-for': ['tighten pump-bolts'] },
        guide: { 'needed-for': [' fit   pump ', 'nonsense', 'turn engine twice'] },
        lock: { 'needed-for': ['turn'] },
      },
    });
    const one = stepIn(names);
    const open = [one('remove', 'cover'), one('remove', 'pump')];
    const told = (...steps: PlanStep[]) =>
      walk([...open, ...steps]).problems.flatMap((problem) =>
        problem.kind === 'not-in-place' ? [`${problem.temporary} for ${problem.step.verb}`] : [],
      );
    const [guide, mandrel, lock] = [one('place', 'guide'), one('place', 'mandrel'), one('place', 'lock')];
    expect(told(guide, one('fit', 'pump'), mandrel, one('tighten', 'pump-bolts'))).toEqual([]);
    expect(told(one('fit', 'pump'), one('tighten', 'pump-bolts'))).toEqual(['guide for fit', 'mandrel for tighten']);
    expect(told(guide, one('clear', 'guide'), one('fit', 'pump'), one('tighten', 'pump'))).toEqual([
      'guide for fit',
      'mandrel for tighten',
    ]);
    expect(told(one('tighten', 'axle-nut'), one('fit', 'cover'))).toEqual([]);
    expect(told(one('turn', 'engine'), lock, one('turn', 'wheel'))).toEqual(['lock for turn']);
  });

  it('of what is tightened the joint, or the part that it holds, is what a step is done to; of nothing else', () => {
    const names = scopeOf({ ...pump, temporaries: { guide: { 'needed-for': ['tighten pump', 'loosen pump', 'tighten hub'] } } });
    const one = stepIn(names);
    const told = (...steps: PlanStep[]) => walk(steps).problems.flatMap(({ kind }) => (kind === 'not-in-place' ? [kind] : []));
    expect(told(one('tighten', 'pump-bolts'))).toHaveLength(1);
    expect(told(one('tighten', ['clamp-nut', 'pump-bolts']))).toHaveLength(1);
    expect(told(one('tighten', 'axle-nut'))).toHaveLength(1);
    expect(told(one('tighten', 'clamp-nut'), one('loosen', 'pump-bolts'))).toEqual([]);
    expect(told(one('loosen', 'pump'))).toHaveLength(1);
  });

  it('what is only raised or loosened is on, also where a part bears its name', () => {
    const raised = [step('raise', 'cover'), step('remove', 'pump'), step('fit', 'pump'), step('tighten', 'pump'), step('lower', 'cover')];
    expect(told(raised)).toEqual(['covered: pump by cover at 2']);
    expect(told([step('raise', 'pump'), off, on, step('lower', 'pump')])).toEqual([]);
  });

  it('knows what is behind what, on the way in', () => {
    expect(told([step('remove', 'pump'), step('fit', 'pump'), step('tighten', 'pump')])).toEqual(['covered: pump by cover at 1']);
    expect(told([step('remove', 'lid'), step('remove', 'pump'), step('fit', 'pump'), step('tighten', 'pump'), step('fit', 'lid')])).toEqual(
      ['covered: pump by cover at 2'],
    );
    // What holds it, and what covers it; told once, and the cover that goes on is not told again.
    expect(told([step('remove', 'bracket'), step('fit', 'bracket'), step('fit', 'lid')])).toEqual(['covered: bracket by lid pump at 1']);
    expect(told([step('remove', 'bracket'), step('fit', 'bracket'), on])).toEqual([
      'covered: bracket by lid pump at 1',
      'never-opened: cover at 3',
    ]);
    for (const verb of ['disconnect', 'open', 'move-aside'] as const)
      expect(told([step(verb, 'pump')])[0]).toBe('covered: pump by cover at 1');
    for (const verb of ['inspect', 'loosen', 'drain'] as const) expect(told([step(verb, 'pump')]).join(' '), verb).not.toContain('covered');
    expect(told([step('remove', 'stray'), step('fit', 'stray')])).toEqual([]);
    // A cover that is moved aside or hangs open is out of the way; a rag on it does not take it away.
    expect(
      told([step('move-aside', 'cover'), step('remove', 'pump'), step('fit', 'pump'), step('tighten', 'pump'), step('return', 'cover')]),
    ).toEqual([]);
    expect(
      told([step('place', 'cover'), step('remove', 'pump'), step('fit', 'pump'), step('tighten', 'pump'), step('clear', 'cover')]),
    ).toEqual(['covered: pump by cover at 2']);
    // One that was put back is in the way again, unless it is off in another way too.
    const pumpOffAndOn = [step('remove', 'pump'), step('fit', 'pump'), step('tighten', 'pump')];
    expect(told([off, on, ...pumpOffAndOn])).toEqual(['covered: pump by cover at 3']);
    expect(told([off, step('open', 'cover'), step('close', 'cover'), ...pumpOffAndOn, on])).toEqual([]);
    expect(told([off, step('open', 'cover'), step('close', 'cover'), on, ...pumpOffAndOn])).toEqual(['covered: pump by cover at 5']);
  });

  it('knows what is behind what, on the way out', () => {
    const pumpOn = [step('fit', 'pump'), step('tighten', 'pump')];
    expect(told([off, step('remove', 'pump'), on, ...pumpOn])).toEqual(['shut-in: pump by cover at 3']);
    expect(told([step('move-aside', 'cover'), step('remove', 'pump'), step('return', 'cover'), ...pumpOn])).toEqual([
      'shut-in: pump by cover at 3',
    ]);
    expect(told([step('open', 'cover'), step('remove', 'pump'), step('close', 'cover'), ...pumpOn])).toEqual([
      'shut-in: pump by cover at 3',
    ]);
    expect(told([step('disconnect', 'cover'), step('remove', 'pump'), step('connect', 'cover'), ...pumpOn])).toEqual([]);
    // What holds a part is on it as well.
    const held = [step('remove', 'lid'), off, step('remove', 'pump'), step('remove', 'bracket')];
    expect(told([...held, ...pumpOn, step('fit', 'bracket'), on, step('fit', 'lid')])).toEqual(['shut-in: bracket by pump at 5']);
    // What never goes back is told once.
    expect(told([off, step('remove', 'pump'), on])).toEqual(['left-open: remove pump before ']);
    // What comes off again before what is behind it goes on was on for a trial; loosened it is on still.
    expect(told([off, step('remove', 'pump'), on, off, ...pumpOn, on])).toEqual([]);
    expect(told([off, step('remove', 'pump'), on, ...pumpOn, off, on])).toEqual(['shut-in: pump by cover at 3']);
    expect(told([off, step('remove', 'pump'), step('fit', 'cover'), off, on, ...pumpOn])).toEqual(['shut-in: pump by cover at 5']);
    // Taken aside together, and what is put in there, shuts nothing in.
    expect(told([step('remove', 'cover'), step('place', 'pump'), on, step('clear', 'pump')])).toEqual([]);
  });

  it('keeps what each joint owes until every stage is done', () => {
    const out = [off, step('remove', 'pump'), step('fit', 'pump')];
    expect(told([...out, on])).toEqual(['owed: pump-bolts@pump stages 1 2 from 3']);
    expect(told([...out, step('tighten', 'pump', { stages: [1] }), on])).toEqual(['owed: pump-bolts@pump stages 2 from 3']);
    expect(told([...out, step('tighten', 'pump-bolts', { stages: [1] }), step('tighten', 'pump', { stages: [2, 7] }), on])).toEqual([]);
    // What was tightened before it came off again must be tightened anew; what stays off owes nothing.
    expect(told([...out, step('tighten', 'pump'), step('remove', 'pump'), step('fit', 'pump'), on])).toEqual([
      'owed: pump-bolts@pump stages 1 2 from 6',
    ]);
    expect(told([...out, step('remove', 'pump')])).toEqual(['left-open: remove cover before ', 'left-open: remove pump before ']);
    expect(
      told([step('disconnect', 'clamp'), step('switch-off', 'ignition'), step('connect', 'clamp'), step('switch-on', 'ignition')]),
    ).toEqual(['owed: clamp-nut@clamp stages 1 from 3']);
    expect(told([step('open', 'hub'), step('close', 'hub'), step('tighten', 'axle-nut')])).toEqual([
      'owed: wheel-bolts@hub stages 1 2 from 2',
    ]);
    expect(told([...out, step('move-aside', 'pump'), step('return', 'pump'), on])).toEqual(['owed: pump-bolts@pump stages 1 2 from 3']);
    // Moved aside, it stays in its joints; and where the method is another, there is no torque to owe.
    expect(told([step('move-aside', 'wheel'), step('return', 'wheel')])).toEqual([]);
    expect(told([step('remove', 'hose'), step('fit', 'hose')])).toEqual([]);
  });

  it('does the stages of the ground on the ground, and those after the job later', () => {
    const out = [step('remove', 'wheel'), step('fit', 'wheel')];
    const ground = step('tighten', 'wheel', { wheels: 'on-ground' });
    expect(told([...out, step('tighten', 'wheel')])).toEqual(['owed: wheel-bolts@wheel stages 2 from 2']);
    expect(told([...out, ground])).toEqual(['owed: wheel-bolts@wheel stages 1 from 2']);
    const done = walk([...out, step('tighten', 'wheel'), ground]);
    expect(done.problems).toEqual([]);
    expect(done.afterTheJob.map(({ joint, stage }) => [joint.key, joint.group, joint.part, stage])).toEqual([
      ['wheel-bolts@wheel', 'wheel-bolts', 'wheel', 3],
    ]);
    // What comes after a distance is not done within the job, whatever a step says.
    expect(told([...out, step('tighten', 'wheel'), ground, step('re-torque', 'wheel')])).toEqual([
      're-torque-early: wheel-bolts@wheel after 50 km at 5',
    ]);
    expect(walk([...out, step('tighten', 'wheel'), ground, step('re-torque', 'wheel')]).afterTheJob.length).toBe(1);
    // Of the places of a group those that owe are meant.
    expect(told([...out, step('tighten', 'wheel-bolts'), step('tighten', 'wheel-bolts', { wheels: 'on-ground' })])).toEqual([]);
  });

  it('a joint is tightened again when it has run, when it has cooled, and when the vehicle comes back', () => {
    const on = [step('remove', 'manifold'), step('fit', 'manifold'), step('tighten', 'manifold-nuts')];
    const again = (more: Partial<Step> = {}) => step('re-torque', 'manifold-nuts', more);
    const worked = (steps: readonly PlanStep[]) => walk(steps).tightened.map((one) => [one.step.verb, ...one.stages].join(' '));
    const left = (steps: readonly PlanStep[]) => walk(steps).afterTheJob.map(({ stage }) => stage);
    expect(told(on)).toEqual(['re-torque-owed: manifold-nuts@manifold stages 2 3 4 after run from 2']);
    expect(told([...on, again()])).toEqual(['re-torque-owed: manifold-nuts@manifold stages 3 4 after heat-cycle from 2']);
    expect(told([...on, again(), again()])).toEqual([]);
    expect(worked([...on, again(), again(), again()])).toEqual(['tighten 1', 're-torque 2', 're-torque 3 4', 're-torque 3 4']);
    expect(left([...on, again(), again()])).toEqual([5, 6]);
    expect(worked([...on, again({ stages: [2, 3, 9] })])).toEqual(['tighten 1', 're-torque 2 3']);
    // What nobody tightens at all is told once, and owes nothing when it is off again.
    expect(told(on.slice(0, 2))).toEqual(['owed: manifold-nuts@manifold stages 1 from 2']);
    expect(told([...on, step('remove', 'manifold')])).toEqual(['left-open: remove manifold before ']);
    // The vehicle comes back: nothing is let go, and the next round by distance is done.
    expect(worked([again()])).toEqual(['re-torque 5']);
    expect(told([again()])).toEqual([]);
    expect(left([again()])).toEqual([6]);
    expect(left([again(), again()])).toEqual([]);
    expect(worked([again({ stages: [6] })])).toEqual(['re-torque 6']);
    // Where nothing comes after a distance, the last job left what comes later.
    expect(worked([step('re-torque', 'head')])).toEqual(['re-torque 2']);
    expect(left([step('re-torque', 'head')])).toEqual([]);
    expect(worked([step('re-torque', ['pump-bolts', 'nobody-knows'])])).toEqual([]);
    expect(told([step('re-torque', ['pump-bolts', 'nobody-knows'])])).toEqual(['re-torque-none: pump-bolts@pump at 1']);
  });

  it('knows what is loose while its part is on: from the loosening until it is off or tight', () => {
    const loose = (...steps: PlanStep[]) =>
      walk(steps).fitted.map(({ joint, fitted, tight }) => [joint.key, steps.indexOf(fitted) + 1, tight ? steps.indexOf(tight) + 1 : null]);
    expect(loose(step('loosen', 'wheel'), step('loosen', 'wheel'), step('remove', 'wheel'))).toEqual([['wheel-bolts@wheel', 1, 3]]);
    expect(loose(step('loosen', 'wheel'), step('tighten', 'wheel'), step('remove', 'wheel'))).toEqual([['wheel-bolts@wheel', 1, 2]]);
    // What went on is loose until its last stage is done, or until it is off again.
    const wheelOn = [step('remove', 'wheel'), step('fit', 'wheel'), step('tighten', 'wheel')];
    expect(loose(...wheelOn)).toEqual([['wheel-bolts@wheel', 2, null]]);
    expect(loose(...wheelOn, step('tighten', 'wheel', { wheels: 'on-ground' }))).toEqual([['wheel-bolts@wheel', 2, 4]]);
    expect(loose(...wheelOn, step('remove', 'wheel'))).toEqual([['wheel-bolts@wheel', 2, 4]]);
    // What stays on is a line of the ledger until it is tightened.
    expect(loose(step('loosen', 'axle-nut'))).toEqual([]);
    expect(loose(step('loosen', 'axle-nut'), step('tighten', 'axle-nut'))).toEqual([['axle-nut@hub', 2, 2]]);
  });

  it('every step that tightens says which joints and stages it does: of several places those that were let go, else all', () => {
    const worked = (...steps: PlanStep[]) =>
      walk(steps).tightened.map(({ step: one, joint, stages }) => `${one.verb} ${joint.key} ${stages.join(' ')}`);
    const both = ['wheel-bolts@wheel', 'wheel-bolts@hub'];
    expect(worked(step('tighten', 'wheel-bolts'))).toEqual(both.map((key) => `tighten ${key} 1`));
    expect(worked(step('re-torque', 'wheel-bolts'))).toEqual(both.map((key) => `re-torque ${key} 3`));
    expect(worked(step('loosen', 'wheel-bolts'), step('tighten', 'wheel-bolts'))).toEqual(both.map((key) => `tighten ${key} 1`));
    expect(worked(step('loosen', 'wheel'), step('tighten', 'wheel-bolts'))).toEqual(['tighten wheel-bolts@wheel 1']);
    const out = [step('remove', 'wheel'), step('fit', 'wheel')];
    expect(worked(...out, step('tighten', 'wheel-bolts'))).toEqual(['tighten wheel-bolts@wheel 1']);
    // Off again, it is no longer what was let go and is on.
    expect(worked(...out, step('remove', 'wheel'), step('loosen', 'hub'), step('tighten', 'wheel-bolts'))).toEqual([
      'tighten wheel-bolts@hub 1',
    ]);
    expect(worked(step('loosen', 'wheel-bolts'), ...out, step('tighten', 'wheel-bolts'))).toEqual(both.map((key) => `tighten ${key} 1`));
  });

  it('says how often a joint was tight and let go before', () => {
    const times = (...steps: PlanStep[]) => walk([off, ...steps, on]).tightened.map(({ timesLetGo }) => timesLetGo);
    const put = [step('remove', 'pump'), step('fit', 'pump')];
    const [tight, first] = [step('tighten', 'pump'), step('tighten', 'pump', { stages: [1] })];
    expect(times(...put, first, step('tighten', 'pump', { stages: [2] }))).toEqual([0, 0]);
    expect(times(...put, tight, ...put, tight, ...put, tight)).toEqual([0, 1, 2]);
    expect(times(...put, first, ...put, tight)).toEqual([0, 0]);
    expect(times(...put, tight, step('loosen', 'pump'), tight)).toEqual([0, 1]);
    expect(times(...put, first, step('loosen', 'pump'), tight)).toEqual([0, 0]);
    expect(times(step('loosen', 'pump'), ...put, tight)).toEqual([0]);
  });

  it('takes the stages of the variant', () => {
    const variant = scopeOf({ ...pump, parts: { case: { fasteners: 'case-bolts' } } });
    const there = stepIn(variant);
    const steps = [there('remove', 'case'), there('fit', 'case')];
    expect(told(steps, { engine: 'A' })).toEqual(['owed: case-bolts@case stages 1 from 2']);
    expect(told(steps, { engine: 'B' })).toEqual(['owed: case-bolts@case stages 1 2 from 2']);
    expect(told([...steps, there('tighten', 'case')], { engine: 'B' })).toEqual([]);
  });

  it('a joint that is loosened on the ground is tightened there; another one must be tight for that', () => {
    const onGround = (name: string) => step('tighten', name, { wheels: 'on-ground' });
    expect(told([step('loosen', 'wheel'), onGround('wheel-bolts')])).toEqual(['owed: wheel-bolts@wheel stages 1 from 2']);
    expect(told([step('loosen', 'wheel'), step('tighten', 'wheel'), onGround('wheel')])).toEqual([]);
    expect(told([step('loosen', 'wheel'), onGround('axle-nut'), step('tighten', 'wheel'), onGround('wheel')])).toEqual([
      'late: wheel-bolts@wheel before 2',
    ]);
  });

  it('a support goes while what carries is tight, but for what is tightened on the ground', () => {
    const under = (stages: Fastener['stages']) => {
      const there = stepIn(
        scopeOf({ parts: { mount: { carries: 'unit', fasteners: 'bolts' } }, fasteners: { bolts: { count: 1, stages } } }),
      );
      return (...tight: Partial<Step>[]) => {
        const out = [there('raise', 'vehicle'), there('support', 'unit'), there('remove', 'mount'), there('fit', 'mount')];
        const inTheAir = tight.map((more) => there('tighten', 'mount', more));
        const down = [there('unsupport', 'unit'), there('lower', 'vehicle'), there('tighten', 'mount', { wheels: 'on-ground' })];
        return told([...out, ...inTheAir, ...down]);
      };
    };
    const low = { torque: '20 N·m' } as unknown as Stage;
    const high = { torque: '90 N·m', wheels: 'on-ground' } as unknown as Stage;
    expect(under([low])()).toEqual(['loose-at-gate: mount fitted 4 before 5']);
    expect(under([low])({})).toEqual(['tightened-again: bolts@mount at 5 and 8']);
    expect(under([high])()).toEqual([]);
    expect(under([low, high])()).toEqual(['owed: bolts@mount stages 1 from 4']);
    expect(under([low, high])({})).toEqual([]);
  });

  it('a joint that is loosened is tightened, unless its part comes off', () => {
    const lines = (steps: readonly PlanStep[]) =>
      walk(steps).lines.map((line) => `${line.pair} ${line.object} ${line.closed ? 'closed' : 'open'}`);
    expect(lines([step('loosen', 'axle-nut')])).toEqual(['loosen axle-nut@hub open']);
    expect(told([step('loosen', 'axle-nut')])).toEqual(['left-open: loosen axle-nut@hub before ']);
    expect(lines([step('loosen', 'axle-nut'), step('tighten', 'axle-nut')])).toEqual(['loosen axle-nut@hub closed']);
    expect(told([step('loosen', 'axle-nut'), step('tighten', 'axle-nut')])).toEqual([]);
    expect(lines([step('loosen', 'wheel-bolts'), step('remove', 'wheel')])).toEqual(['loosen wheel-bolts@hub open', 'remove wheel open']);
    expect(lines([step('loosen', 'case-bolts')])).toEqual(['loosen case-bolts open']);
    expect(lines([step('loosen', 'axle-nut'), step('inspect', 'hub')])).toEqual(['loosen axle-nut@hub open']);
    // Of the places of a group those that were let go are meant.
    const wheelOn = [step('remove', 'wheel'), step('fit', 'wheel'), step('tighten', 'wheel-bolts')];
    expect(lines([step('loosen', 'wheel-bolts'), ...wheelOn])).toEqual(['loosen wheel-bolts@hub closed', 'remove wheel closed']);
    expect(told([step('tighten', 'axle-nut')])).toEqual([]);
    expect(lines([step('loosen', 'axle-nut'), step('tighten', 'axle-nut')])).toEqual(['loosen axle-nut@hub closed']);
  });

  it('nothing is filled or driven while a joint of it is loose', () => {
    const out = [off, step('remove', 'pump'), step('fit', 'pump')];
    const fill = step('fill', 'coolant');
    expect(told([step('drain', 'coolant'), ...out, fill, step('tighten', 'pump'), on])).toEqual(['loose-at-gate: pump fitted 4 before 5']);
    expect(told([step('drain', 'coolant'), ...out, fill, step('pressurise', 'coolant'), step('tighten', 'pump'), on])).toEqual([
      'loose-at-gate: pump fitted 4 before 5',
    ]);
    // What is never tightened is told once.
    expect(told([step('drain', 'coolant'), ...out, fill, on])).toEqual(['owed: pump-bolts@pump stages 1 2 from 4']);
    expect(told([step('drain', 'coolant'), ...out, step('tighten', 'pump'), fill, on])).toEqual([]);
  });

  it('the battery is connected with the ignition off', () => {
    const clamp = [step('disconnect', 'clamp'), step('connect', 'clamp'), step('tighten', 'clamp')];
    expect(told(clamp)).toEqual(['interlock: ignition closed never at 2']);
    const [ignitionOff, ignitionOn] = [step('switch-off', 'ignition'), step('switch-on', 'ignition')];
    expect(told([ignitionOff, ...clamp, ignitionOn])).toEqual([]);
    expect(told([ignitionOff, ignitionOn, ...clamp])).toEqual(['interlock: ignition closed 2 at 4']);
  });

  it('a joint is tightened once, in the order of its stages, until it is loosened or put on again', () => {
    const tight = (more: Partial<Step> = {}, name = 'pump-bolts') => step('tighten', name, more);
    const pumpOn = [off, step('remove', 'pump'), step('fit', 'pump')];
    expect(told([...pumpOn, tight(), tight(), on])).toEqual(['tightened-again: pump-bolts@pump at 4 and 5']);
    expect(told([...pumpOn, tight(), tight({}, 'pump'), on])).toEqual(['tightened-again: pump-bolts@pump at 4 and 5']);
    expect(told([...pumpOn, tight({ stages: [1] }), tight({ stages: [2] }), on])).toEqual([]);
    expect(told([...pumpOn, tight({ stages: [1] }), tight(), on])).toEqual([]);
    expect(told([...pumpOn, tight({ stages: [2] }), tight({ stages: [1] }), on])).toEqual([
      'out-of-turn: pump-bolts@pump stage 1 at 5 after 4',
    ]);
    expect(told([...pumpOn, tight({ stages: [2, 1] }), on])).toEqual([]);
    expect(told([...pumpOn, tight(), ...pumpOn.slice(1), tight(), on])).toEqual([]);
    const loose = [step('loosen', 'case-bolts'), step('tighten', 'case-bolts')];
    expect(told([...loose, ...loose])).toEqual([]);
    expect(told([...loose, step('tighten', 'case-bolts')])).toEqual(['tightened-again: case-bolts at 2 and 3']);
    // A further round is the same step again.
    const round = tight();
    expect(told([...pumpOn, round, { ...round }, on])).toEqual([]);
    // The group holds two parts: the one that was done before is not done again.
    const wheel = [step('remove', 'wheel'), step('fit', 'wheel'), step('tighten', 'wheel', { stages: [1, 2] })];
    const hub = [step('remove', 'hub'), step('fit', 'hub'), step('tighten', 'axle-nut')];
    expect(told([...wheel, ...hub, step('tighten', 'wheel-bolts', { stages: [1, 2] })])).toEqual([]);
    expect(told([...wheel, ...hub, step('tighten', 'hub', { stages: [1, 2] })])).toEqual([]);
    expect(told([...wheel, step('tighten', 'wheel', { wheels: 'on-ground' })])).toEqual(['tightened-again: wheel-bolts@wheel at 3 and 4']);
  });

  it('an engine runs and stops after it was started', () => {
    expect(told([step('run', 'engine')])).toEqual(['not-running: at 1']);
    expect(told([step('stop', 'engine'), step('start', 'engine')])).toEqual(['not-running: at 1']);
    expect(told([step('start', 'engine'), step('run', 'engine'), step('stop', 'engine')])).toEqual([]);
    const stopped = [step('start', 'engine'), step('stop', 'engine')];
    expect(told([...stopped, step('run', 'engine')])).toEqual(['not-running: at 3 after 2']);
    expect(told([...stopped, step('stop', 'engine')])).toEqual(['not-running: at 3 after 2']);
    expect(told([...stopped, step('start', 'engine'), step('run', 'engine')])).toEqual([]);
    // Where another document stops it, the planner puts the two in order.
    expect(told([...stopped, stepIn(scope)('run', 'engine')])).toEqual([]);
    expect(told([step('inspect', 'engine')])).toEqual([]);
  });

  it('what is left changed on purpose is not left open', () => {
    const changed = stepIn(scope, { cover: 'not fitted any more', 'axle-nut': 'by the next shop' });
    expect(told([changed('remove', 'cover'), changed('loosen', 'axle-nut')])).toEqual([]);
    expect(told([changed('remove', 'lid')])).toEqual(['left-open: remove lid before ']);
    expect(walk([changed('remove', 'cover'), changed('loosen', 'axle-nut')]).lines.map(staysChanged)).toEqual([
      'not fitted any more',
      'by the next shop',
    ]);
  });

  describe('a step is ready', () => {
    const ready = (before: readonly PlanStep[], next: PlanStep, coming: readonly string[], own: readonly string[] = []): boolean => {
      const ledger = ledgerFor([...before, next], {});
      for (const one of before) ledger.take(one);
      return ledger.isReady(
        next,
        (deed) => coming.includes(deed),
        (deed) => own.includes(deed),
      );
    };

    it('when nothing stands in its way that somebody else will still take away', () => {
      expect(ready([step('remove', 'hose')], step('fill', 'coolant'), ['close remove hose'])).toBe(false);
      expect(ready([step('remove', 'hose')], step('fill', 'coolant'), ['close remove pump', 'start'])).toBe(true);
      expect(ready([step('remove', 'cover')], step('fill', 'coolant'), ['close remove cover'])).toBe(true);
      expect(ready([step('remove', 'hose')], step('inspect', 'coolant'), ['close remove hose'])).toBe(true);
      const loose = [off, step('remove', 'pump'), step('fit', 'pump')];
      expect(ready(loose, step('fill', 'coolant'), ['tighten pump'])).toBe(false);
      expect(ready(loose, step('fill', 'coolant'), ['tighten hose'])).toBe(true);
      expect(ready([...loose, step('tighten', 'pump')], step('fill', 'coolant'), ['tighten pump'])).toBe(true);
    });

    it('when the engine runs, where it is looked at with the engine running and another document starts it', () => {
      const running = (verb: Parameters<typeof step>[0], object: string): PlanStep => ({ ...step(verb, object), moment: 'running' });
      for (const verb of ['measure', 'test', 'inspect'] as const) {
        expect(ready([], running(verb, 'pressure'), ['start'])).toBe(false);
        expect(ready([], running(verb, 'pressure'), [])).toBe(true);
        expect(ready([], step(verb, 'pressure'), ['start'])).toBe(true);
        expect(ready([step('start', 'engine')], running(verb, 'pressure'), ['start'])).toBe(true);
        // Its own document starts the engine when it wants to.
        expect(ready([], running(verb, 'pressure'), ['start'], ['start'])).toBe(true);
      }
      expect(ready([], running('run', 'engine'), ['start'], ['start'])).toBe(false);
      expect(ready([], running('confirm', 'pressure'), ['start'])).toBe(true);
    });

    it('when what lies behind it is back', () => {
      const out = [off, step('remove', 'pump')];
      expect(ready(out, on, ['close remove pump'])).toBe(false);
      expect(ready(out, on, ['close remove cover'])).toBe(true);
      expect(ready(out, step('fit', ['lid', 'cover']), ['close remove pump'])).toBe(false);
      expect(ready(out, step('fit', 'pump'), ['close remove cover'])).toBe(true);
    });

    it('when the engine was started, and the ignition is on for what asks the control units', () => {
      for (const verb of ['run', 'stop'] as const) {
        expect(ready([], step(verb, 'engine'), ['start'])).toBe(false);
        expect(ready([], step(verb, 'engine'), [])).toBe(true);
        expect(ready([step('start', 'engine')], step(verb, 'engine'), ['start'])).toBe(true);
        expect(ready([step('start', 'engine'), step('stop', 'engine')], step(verb, 'engine'), ['start'])).toBe(false);
      }
      expect(ready([], step('inspect', 'engine'), ['start'])).toBe(true);
      const ignition = [step('switch-off', 'ignition')];
      for (const verb of ['read', 'erase', 'reset'] as const) {
        expect(ready(ignition, step(verb, 'codes'), ['close switch-off ignition'])).toBe(false);
        expect(ready(ignition, step(verb, 'codes'), [])).toBe(true);
        expect(ready([], step(verb, 'codes'), ['close switch-off ignition'])).toBe(true);
      }
      expect(ready(ignition, step('inspect', 'codes'), ['close switch-off ignition'])).toBe(true);
    });
  });

  it('names the deeds that others wait for', () => {
    expect(deedsOf(step('start', 'engine'))).toEqual(['start']);
    expect(deedsOf(step('fit', ['cover', 'lid']))).toEqual(['close remove cover', 'close remove lid']);
    expect(deedsOf(step('clear', 'rags'))).toEqual(['close place rags']);
    expect(deedsOf(step('tighten', 'wheel-bolts'))).toEqual([
      'tighten wheel',
      'close loosen wheel-bolts@wheel',
      'tighten hub',
      'close loosen wheel-bolts@hub',
    ]);
    expect(deedsOf(step('remove', 'cover'))).toEqual([]);
    expect(deedsOf(step('inspect', 'cover'))).toEqual([]);
  });

  it('knows joints by group and by part, and the stages that a step does', () => {
    const keys = (name: string) => jointsNamed(scope, name).map(({ key }) => key);
    expect(keys('wheel-bolts')).toEqual(['wheel-bolts@wheel', 'wheel-bolts@hub']);
    expect(keys('hub')).toEqual(['wheel-bolts@hub', 'axle-nut@hub']);
    expect([keys('case-bolts'), keys('cover'), keys('nobody-knows')]).toEqual([['case-bolts'], [], []]);
    expect(
      jointsOfStep(step('tighten', ['axle-nut', 'case-bolts']), { engine: 'B' }).map(({ joint, group }) => [
        joint.key,
        group?.stages?.length,
      ]),
    ).toEqual([
      ['axle-nut@hub', 1],
      ['case-bolts', 2],
    ]);
    const stages = (name: string, more: Partial<Step>) => {
      const fastener = scope.fasteners.get(name);
      return fastener ? stagesOfStep(fastener, step('tighten', name, more).step) : null;
    };
    expect(stages('wheel-bolts', {})).toEqual([1]);
    expect(stages('wheel-bolts', { wheels: 'on-ground' })).toEqual([2]);
    expect(stages('wheel-bolts', { stages: [1, 3, 4] })).toEqual([1, 3]);
    expect(stages('axle-nut', { wheels: 'on-ground' })).toEqual([1]);
    expect([stages('drain', {}), stages('drain', { stages: [1] })]).toEqual([[], []]);
  });
});

describe('a vehicle may be left', () => {
  const scope = { ...scopeOf(vehicle), fluids: new Map([['coolant', {}]]) } as unknown as Scope;
  const step = stepIn(scope);
  const safe = (open: readonly (readonly [Pair, string])[], running = false, loose: readonly string[] = []): boolean =>
    safeToLeave(
      open.map(([pair, object]) => newLine(lineName(pair, object), step(pair, object), null)),
      loose,
      scope,
      running,
    );

  it('when nothing runs, nothing is held up or pressed together, and no circuit is open with its fluid in', () => {
    expect(safe([])).toBe(true);
    expect(safe([], true)).toBe(false);
    expect(safe([], false, ['wheel', 'cover'])).toBe(false);
    expect(safe([], false, ['cover', 'nobody-knows'])).toBe(true);
    expect([safe([['loosen', 'nuts@wheel']]), safe([['loosen', 'nuts@cover']]), safe([['loosen', 'nuts']])]).toEqual([false, true, true]);
    // What carries something, and what is heavy and overhead, falls; a heavy thing that lies on the engine does not.
    expect(['mount', 'case', 'head'].map((part) => safe([], false, [part]))).toEqual([false, false, true]);
    // Fuel and gas: what is on is taken for tight.
    expect([safe([], false, ['gas-filter']), safe([['loosen', 'nuts@gas-filter']]), safe([['remove', 'gas-filter']])]).toEqual([
      ...[false, false, true],
    ]);
    expect(
      safe([
        ['remove', 'cover'],
        ['place', 'rags'],
        ['raise', 'vehicle'],
      ]),
    ).toBe(true);
    expect(safe([['support', 'engine']])).toBe(false);
    expect(safe([['raise', 'front-axle']])).toBe(false);
    expect(
      safe([
        ['raise', 'front-axle'],
        ['support', 'front-axle'],
      ]),
    ).toBe(true);
    expect(
      safe([
        ['remove', 'cover'],
        ['compress', 'spring'],
      ]),
    ).toBe(false);
    expect(safe([['open', 'hose']])).toBe(false);
    expect(
      safe([
        ['open', 'hose'],
        ['drain', 'oil'],
      ]),
    ).toBe(false);
    expect(
      safe([
        ['open', 'hose'],
        ['drain', 'coolant'],
      ]),
    ).toBe(true);
    expect(
      safe([
        ['open', 'hose'],
        ['place', 'coolant'],
      ]),
    ).toBe(false);
    expect(safe([['open', 'cap']])).toBe(true);
    expect(safe([['open', 'nobody-knows']])).toBe(true);
    expect(
      safe([
        ['open', 'sump'],
        ['open', 'cover'],
      ]),
    ).toBe(true);
    expect(safe([['remove', 'hose']])).toBe(true);
  });
});

describe('the engine', () => {
  const step = stepIn(scopeOf(pump));
  const at = (verb: VerbName, moment: PlanStep['moment'] = null) => ({ ...step(verb, 'engine'), moment });

  const runsAfter = (steps: readonly PlanStep[]) => runningSince(steps).map((since) => since !== null);

  it('runs from its start to its stop, or until the vehicle goes down, cools or is back from the road', () => {
    expect(runsAfter([at('inspect'), at('start'), at('measure'), at('stop'), at('inspect')])).toEqual([false, true, true, false, false]);
    expect(runsAfter([at('start', 'running'), at('inspect', 'ground'), at('start', 'ground'), at('inspect', 'ground')])).toEqual([
      true,
      false,
      true,
      true,
    ]);
    expect(runsAfter([at('start', 'running'), at('wait', 'cooled')])).toEqual([true, false]);
    expect(runsAfter([at('start', 'running'), at('read', 'road'), at('drive', 'road'), at('inspect', 'road')])).toEqual([
      true,
      true,
      false,
      false,
    ]);
    expect(runsAfter([at('start'), at('inspect', 'running')])).toEqual([true, true]);
  });

  it('runs since it was started, not since it was asked for again; what starts it only perhaps leaves that to the next', () => {
    const [first, again, stop, third] = [at('start'), at('start'), at('stop'), at('start')];
    expect(runningSince([first, again, stop, third])).toEqual([first, first, null, third]);
    const perhaps = { ...first, conditional: [{ 'head-flatness': 'outside' }] };
    expect(runningSince([perhaps, again, third])).toEqual([perhaps, again, again]);
  });
});
