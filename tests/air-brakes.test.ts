// A bus with air brakes: compressed air, and the springs of brake chambers that are held while they are changed.
import { describe, expect, it } from 'vitest';
import { demoTexts, found, libraryOf } from './helpers/shop.js';

const shipped = Object.fromEntries(Object.entries(demoTexts()).filter(([name]) => name.startsWith('/shipped/')));
const vehicle = '/shop/vehicles/bus-10.yaml';
const brake = '/shop/procedures/spring-brake.yaml';
const texts: Readonly<Record<string, string>> = {
  ...shipped,
  '/shop/shop.yaml': `kind: shop
id: coachworks
name: Hillside Coachworks
locale: en-GB
currency: GBP
rates: { mechanic: 92.00 }
grade: mechanic
taxes: { standard: 20 % }
tax: standard
lift: 20000 kg
lift-limit: 25 kg
validity: 30 d
tools:
  TW-2: { type: torque-wrench, name: torque wrench 20–100 N·m, range: 20..100 N·m, length: 400 mm, square: 3/8 in, calibrated: "2026-03-02", due: "2027-03-02", certificate: "C-1108", drawer: A1 }
  TW-3: { type: torque-wrench, name: torque wrench 60–300 N·m, range: 60..300 N·m, length: 550 mm, square: 1/2 in, calibrated: "2026-06-15", due: "2027-06-15", certificate: "C-1131", drawer: A2 }
  TW-4: { type: torque-wrench, name: torque wrench 170–700 N·m, range: 170..700 N·m, length: 950 mm, square: 3/4 in, calibrated: "2026-06-15", due: "2027-06-15", certificate: "C-1132", drawer: A3 }
  lift: { type: lift, name: column lift }
  wheel-chocks: { type: special, name: wheel chocks, pieces: 4 }
`,
  [vehicle]: `kind: vehicle
id: bus-10
name: Corrin B10
revision: "1"
source: { document: Corrin workshop manual, edition: "2021" }
mass: 11200 kg
facing: left, right, front, rear
parts:
  reservoir-drain-valves: { name: drain valves of the air reservoirs, count: 3, beneath: true, circuit: air }
  brake-chambers: { name: rear spring-brake chambers, item: brake-chambers, count: 2, beneath: true, circuit: air, fasteners: chamber-nuts, hazard: spring, opened-after: [air-pressure], due-before: [drive vehicle, start engine] }
  spring-brakes: { name: springs of the rear brake chambers }
  air-lines: { name: air lines of the rear chambers, count: 4, beneath: true, circuit: air, fasteners: line-unions, hazard: compressed-air, opened-after: [air-pressure], due-before: [drive vehicle] }
  clevis-pins: { name: clevis pins of the push rods, count: 2, beneath: true, due-before: [drive vehicle] }
fasteners:
  chamber-nuts: { name: chamber nuts, count: 4, thread: M16x1.5, class: "10", drive: 24 AF, reuse: never, item: chamber-nut, threads: dry, stages: [{ torque: 120 N·m }, { torque: 190 ±20 N·m }] }
  line-unions: { name: air line unions, count: 4, thread: M16x1.5, drive: 22 AF, reuse: always, threads: dry, stages: [{ torque: 32 N·m }] }
temporaries:
  wheel-chocks: { name: wheel chocks, count: 4, tool: wheel-chocks }
measurements:
  air-pressure: { code: M-01, name: pressure in each reservoir, limit: max 0.1 bar, with: gauge, points: 3, takes: max, outside: Drain it. }
  stroke: { code: M-02, name: stroke of the push rods, limit: 38..45 mm, with: rule, points: 2, outside: Adjust the slack adjuster. }
`,
  '/shop/procedures/chocked.yaml': `kind: preparation
id: chocked
name: Wheels chocked
for: bus-10
steps:
  - place: wheel-chocks
    count: 4
final:
  ground:
    - clear: wheel-chocks
      count: 4
`,
  [brake]: `kind: procedure
id: spring-brake
name: Renew both rear spring-brake chambers
for: bus-10
revision: "1"
source: { document: Corrin workshop manual, section: 42-10 }
customer: { what: Renew the rear brake chambers., why: One leaks. }
needs: [chocked, vehicle-raised]
labour:
  chambers: { says: chambers off and on, time: 2.4 h }
steps:
  - compress: spring-brakes
    says: Wind the caging bolt out until the spring is held. Air in the chamber makes it easy.
    danger: The spring holds enough energy to kill. Never open the clamp ring.
    wear: [eyes, gloves]
  - open: reservoir-drain-valves
    wear: [eyes]
  - measure: air-pressure
  - disconnect: air-lines
    warning: What air is left blows dirt.
    wear: [eyes]
  - remove: clevis-pins
  - remove: brake-chambers
    warning: The spring is caged; look twice.
    wear: [eyes]
close-up:
  - fit: brake-chambers
    new: true
  - tighten: brake-chambers
  - fit: clevis-pins
  - connect: air-lines
  - tighten: air-lines
  - close: reservoir-drain-valves
  - release: spring-brakes
  - measure: stroke
final:
  road:
    - test: brakes
      says: Brake tester, both rear wheels alike.
`,
  '/shop/parts/p.yaml': `kind: parts
id: p
name: Corrin parts
for: bus-10
date: "2026-10-01"
items:
  chamber-nut: { name: chamber nut }
  brake-chambers: { name: spring-brake chamber }
offers:
  - { number: "C-1", contains: { chamber-nut: 1 }, price: 1.10 }
  - { number: "C-2", contains: { brake-chambers: 1 }, price: 148.00 }
`,
};

const told = (...changes: readonly (readonly [file: string, from: string, to: string])[]): string[] => {
  const all = { ...texts };
  for (const [file, from, to] of changes) {
    expect(all[file]).toContain(from);
    all[file] = (all[file] ?? '').replace(from, to);
  }
  return found(libraryOf(all)).map(({ rule, line, message }) => `${rule} @ ${line.slice(0, 30)}: ${message}`);
};

describe('air brakes', () => {
  it('as it should be done: nothing is found', () => {
    expect(told()).toEqual([]);
  });

  it('air lines of which nobody says what can hurt; that the chambers hold springs says nothing of the air', () => {
    expect(told([vehicle, 'hazard: compressed-air, opened-after: [air-pressure], ', ''])).toEqual([
      expect.stringMatching(/^hazard\/unsaid @ - disconnect: air-lines: .*`hazard: compressed-air`/),
    ]);
  });

  it('air that was not let out, and that the compressor has put back', () => {
    const measured = '  - measure: air-pressure\n';
    expect(told([brake, measured, ''])).toEqual([
      expect.stringMatching(/^hazard\/opened-unsafe @ - disconnect: air-lines/),
      expect.stringMatching(/^hazard\/opened-unsafe @ - remove: brake-chambers/),
    ]);
    const ran = `${measured}  - start: engine\n    warning: Hands clear.\n  - stop: engine\n`;
    const pumped = told([brake, measured, ran]).filter((one) => one.startsWith('hazard/opened-unsafe'));
    expect(pumped).toEqual([expect.stringMatching(/@ - disconnect: air-lines.*again\.$/s)]);
  });

  it('chocks that come after a preparation has raised it: a step cannot be put before that, a preparation can', () => {
    const late = told([brake, '[chocked, vehicle-raised]', '[vehicle-raised, chocked]']);
    expect(late).toEqual([
      expect.stringMatching(/^hazard\/chocked-late .* Put it into a preparation of its own, and need that before `vehicle-raised`\.$/),
    ]);
  });

  it('a lift that the shop calls otherwise than the preparation that ships with the tool', () => {
    expect(told(['/shop/shop.yaml', '  lift: {', '  column-lift: {'])).toEqual([
      expect.stringMatching(/There is `column-lift`, a lift: call it `lift`, or write a preparation of the same id, with your own\.$/),
    ]);
  });
});
