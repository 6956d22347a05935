import { demoTexts } from './shop.js';

export const valveVehicle = '/shop/vehicles/velm-12.yaml';
export const valveWork = '/shop/procedures/valve-clearance.yaml';
export const valveOrder = '/shop/jobs/valves.yaml';

/** A shop that adjusts valves by shims: each is worked out from the one that is in and the clearance. */
export const valves = {
  '/shop/shop.yaml': demoTexts()['/shop/shop.yaml'] ?? '',
  [valveVehicle]: `kind: vehicle
id: velm-12
name: Velm 1.2
source: { document: Velm book }
parts:
  cover: { name: camshaft cover, due-before: [start engine], fasteners: cover-clip }
  shims: { name: shims, count: 4, behind: [cover], item: shim, seal: used-again }
fasteners:
  cover-clip: { name: cover clip, count: 1, method: clip, reuse: always }
measurements:
  clearance: { code: M-01, name: valve clearance, limit: 0.18..0.24 mm, points: 4, takes: each, with: feeler gauges, outside: Another shim. }
  shim-in: { code: M-02, name: shim that is in, unit: mm, points: 4, takes: each, with: micrometer }
  shim-wanted:
    code: M-03
    name: shim that is wanted
    unit: mm
    points: 4
    takes: each
    calculated: { plus: [shim-in, clearance], constant: -0.21 mm }
choices:
  shim:
    code: C-01
    name: shim
    from: shim-wanted
    stays: clearance
    item: shim
    table:
      - { over: 2.475 mm, to: 2.525 mm, gives: shim-250 }
      - { over: 2.525 mm, to: 2.575 mm, gives: shim-255 }
      - { over: 2.575 mm, to: 2.625 mm, gives: shim-260 }
      - { over: 2.625 mm, to: 2.675 mm, gives: shim-265 }
`,
  [valveWork]: `kind: procedure
id: valve-clearance
name: Adjust the valve clearance
for: velm-12
customer: { what: Adjust the valve clearance., why: It is out of its limits. }
labour: { shims: { says: shims changed, time: 1.6 h } }
steps:
  - remove: cover
  - measure: clearance
  - remove: shims
    count: 4
  - measure: shim-in
  - measure: shim-wanted
  - choose: shim
close-up:
  - fit: shims
    count: 4
    new: true
  - measure: clearance
  - fit: cover
`,
  '/shop/parts/velm.yaml': `kind: parts
id: velm
for: velm-12
items:
  shim: { name: shim }
  shim-250: { name: shim 2.50 }
  shim-255: { name: shim 2.55 }
  shim-260: { name: shim 2.60 }
  shim-265: { name: shim 2.65 }
offers:
  - { number: "V-250", contains: { shim-250: 1 }, price: 6.10 }
  - { number: "V-255", contains: { shim-255: 1 }, price: 6.10 }
  - { number: "V-260", contains: { shim-260: 1 }, price: 6.10 }
  - { number: "V-265", contains: { shim-265: 1 }, price: 6.10 }
`,
  [valveOrder]: `kind: job
id: valves
number: "3001"
date: "2026-11-30"
vehicle: velm-12
plate: EF 1
odometer: 90100 km
work: [valve-clearance]
technician: T1
measured:
  clearance: [0.20 mm, 0.12 mm, 0.30 mm, 0.24 mm]
  shim-in: [2.60 mm, 2.65 mm, 2.55 mm, 2.50 mm]
`,
};
