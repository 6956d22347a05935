/** The small shop in which the examples of the rules stand. An example's documents are added to it or take the place of its own. */
export const exampleLibrary: Readonly<Record<string, string>> = {
  'shop.yaml': `kind: shop
id: sample-shop
name: Sample shop
currency: EUR
rates: { mechanic: 60.00 }
taxes: { standard: 20 % }
validity: 30 d
waste:
  antifreeze: { name: coolant, per: L }
tools:
  W-1: { type: torque-wrench, range: 4..20 N·m, length: 250 mm, due: "2099-01-01" }
  W-2: { type: torque-wrench, range: 20..200 N·m, length: 500 mm, due: "2099-01-01" }
  gauge: { type: angle-gauge }
`,
  'vehicles/sample-van.yaml': `kind: vehicle
id: sample-van
name: Sample van
source: { document: Sample book }
features:
  engine: { values: [A1, A2], tell: On the plate beside the lock. }
parts:
  battery: { name: battery negative clamp, role: battery, fasteners: battery-nut }
  cover: { name: front cover }
  tap: { name: radiator tap, circuit: coolant }
  cap: { name: tank cap, circuit: coolant, role: fill-point }
  pump: { name: coolant pump, circuit: coolant, behind: [cover], fasteners: pump-bolts, item: pump, seals: { pump-gasket: 1 } }
  wheel: { name: front wheel, role: wheel, fasteners: wheel-nuts }
temporaries:
  pin: { name: crankshaft pin, count: 1, due-before: [turn engine] }
fluids:
  coolant:
    name: battery coolant
    spec: S-1
    item: coolant-ready
    form: ready
    capacity: 8 L
    drains: [{ through: [tap], gives: 5 L }]
    waste: antifreeze
fasteners:
  battery-nut: { count: 1, thread: M6x1, class: "8.8", drive: 10 AF, reuse: always, threads: dry, stages: [{ torque: 5 N·m }] }
  pump-bolts: { count: 4, thread: M6x1, class: "8.8", drive: 10 AF, reuse: always, threads: dry, sequence: star, stages: [{ torque: 10 N·m }] }
  wheel-nuts: { count: 5, thread: M14x1.5, class: "10", drive: 21 AF, reuse: always, threads: dry, sequence: star, re-torque: not-needed, stages: [{ torque: 80 N·m }, { torque: 160 N·m, wheels: on-ground }] }
waits:
  ignition-off: 3 min
`,
  'parts/sample.yaml': `kind: parts
id: sample
items:
  pump: { name: coolant pump }
  pump-gasket: { name: pump gasket }
  coolant-ready: { name: ready coolant }
offers:
  - { number: "P-1", contains: { pump: 1 }, price: 50.00 }
  - { number: "P-2", contains: { pump-gasket: 1 }, price: 3.00 }
  - { number: "P-3", contains: { coolant-ready: 5 L }, price: 20.00 }
`,
};

const folders: Readonly<Record<string, string>> = {
  vehicle: 'vehicles',
  procedure: 'procedures',
  preparation: 'procedures',
  parts: 'parts',
  job: 'jobs',
};

/** The paths and texts of an example, added to the small shop. */
export function filesOfExample(example: string | Readonly<Record<string, string>>): {
  readonly all: Record<string, string>;
  readonly own: readonly string[];
} {
  const own: Record<string, string> = typeof example === 'string' ? { [pathOf(example)]: example } : { ...example };
  return { all: { ...exampleLibrary, ...own }, own: Object.keys(own) };
}

function pathOf(text: string): string {
  const kind = /^kind: *"?([a-z]+)/m.exec(text)?.[1] ?? 'procedure';
  const id = /^id: *([a-z0-9-]+)/m.exec(text)?.[1] ?? 'example';
  return kind === 'shop' ? 'shop.yaml' : `${folders[kind] ?? 'procedures'}/${id}.yaml`;
}
