import type { DocumentKind } from '../../schema/lookup.js';
import { inYaml } from '../../syntax/scalar.js';

/** What a job order begins with: a vehicle and work for it, and its number on the paper. */
export interface JobBeginning {
  readonly vehicle: string;
  readonly procedure: string;
  readonly number: string;
}

/** A starting file of each kind, with the comments that get someone going. */
export function startingText(
  kind: DocumentKind,
  id: string,
  schema: string,
  today: string,
  begins: JobBeginning = { vehicle: 'vehicle-id', procedure: 'procedure-id', number: '1' },
): string {
  return `# yaml-language-server: $schema=${schema}\n${texts[kind](id, today, begins)}`;
}

const texts: Record<DocumentKind, (id: string, today: string, begins: JobBeginning) => string> = {
  shop: (id) => `kind: shop
id: ${inYaml(id)}
name: Our shop
locale: en-GB
currency: EUR            # ISO 4217
paper: A4                # or Letter
torque-unit: N·m         # or lbf·ft; values as written stand beside it
# volume-unit: US qt     # where jugs and bottles have other marks than litres
# mass-unit: oz          # where the refrigerant station shows another than grams
rates:                   # labour, per hour, by grade
  mechanic: 60.00
taxes:
  standard: 20 %
authority: 10 %          # above this over the quote the customer is called
validity: 30 d
# supplies: { rate: 2 %, cap: 20.00 }
# waste: what comes out of vehicles, by class, with its fee
waste:
  antifreeze: { name: coolant with antifreeze, per: L, fee: 0.30 }
  used-oil: { name: used oil, per: L, fee: 0.20 }
# torque tools with the certified range and the date to which it holds
tools: {}
#  W-1: { type: torque-wrench, range: 20..100 N·m, length: 400 mm, due: "2030-01-01" }
`,
  vehicle: (id) => `kind: vehicle
id: ${inYaml(id)}
name: maker and model ??
revision: "1"
source: { document: the book that the figures come from ??, edition: its date ?? }
# Variants, and how to tell them at the vehicle:
# features:
#   engine: { values: [A1, A2], tell: On the plate beside the lock. }

# Parts, connections, caps and taps whose state a step can change.
parts:
  battery-negative: { name: battery negative clamp, role: battery, fasteners: battery-nut }
  expansion-cap: { name: expansion-tank cap, role: fill-point, circuit: coolant }
  radiator-drain: { name: radiator drain tap, circuit: coolant }
  # coolant-pump: { circuit: coolant, behind: [aux-belt], fasteners: pump-bolts, item: coolant-pump, seals: { pump-gasket: 1 } }

fluids:
  coolant:
    spec: the specification, not a colour ??
    item: coolant-ready          # in the parts catalogue
    form: ready                  # or concentrate, with target, range and water
    hazard: hot                  # every step that opens it must then warn, protect, and come after:
    opened-after: [coolant-temperature]   # which the preparation engine-cold measures
    capacity: 8 L                # the whole system
    drains:                      # what really comes out
      - { through: [radiator-drain], gives: 5 ±0.5 L }
    waste: antifreeze

# One value for one joint: every procedure uses these. From the maker's current information.
fasteners:
  battery-nut: { count: 1, thread: M6x1, class: "8.8", drive: 10 AF, reuse: always, threads: dry, stages: [{ torque: 5 N·m }] }

# What this vehicle asks for at a step, by its verb and object; printed there:
# notes:
#   raise vehicle: Pads behind the arrows of the sills.

# Waiting times have no default; they are the maker's.
waits:
  ignition-off: 3 min
`,
  procedure: (id) => `kind: procedure
id: ${inYaml(id)}
name: what is done, in the infinitive ??
revision: "1"
# for: the id of the vehicle profile

# customer: { what: In the customer's words., why: And why. }

# Preparations that must be true before, in the order in which they are done:
# needs:
#   - engine-cold
#   - coolant-drained: { openings: [radiator-drain] }

labour:
  work: { says: what it covers ??, time: 0.5 h }

# One action a step: a verb and its object. An editor completes the verbs.
steps:
  - inspect: leaks
    says: Look beneath; no drip.

# What undoes the steps, in order: fit, connect, close, tighten, fill.
# close-up:
#   - fit: coolant-pump
#   - tighten: pump-bolts
`,
  preparation: (id) => `kind: preparation
id: ${inYaml(id)}
name: the state that it makes ??
revision: "1"
# params: { covers: { says: the covers to take off } }     # used as $covers
labour:
  open-and-close: { says: off and on, time: 0.2 h }
steps:
  - inspect: access
    says: Nothing in the way.
# close-up:
#   - fit: cover
`,
  parts: (id, today) => `kind: parts
id: ${inYaml(id)}
name: Our catalogue
date: "${today}"
# What a step can demand:
items:
  coolant-ready: { name: ready coolant }
# What can be bought: single parts, packs, kits, containers. Numbers in quotes.
offers:
  - { number: "0001", name: ready coolant 5 L, contains: { coolant-ready: 5 L }, price: 20.00, bin: F1 }
`,
  job: (id, today, { vehicle, procedure, number }) => `kind: job
id: ${inYaml(id)}
number: "${number}"
date: "${today}"
vehicle: ${inYaml(vehicle)}     # the vehicle profile
plate: "AB 123"
odometer: 100000 km
road-test: 10 km
complaint: in the words of the customer ??
# features: { engine: { is: A1, by: read on the plate } }
work: [${inYaml(procedure)}]     # procedures, in the order in which they are worked
`,
};
