// Work that is for several vehicles: on those whose profiles are alike to it, the same is found as if each were looked at.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unlikeTo } from '../src/rules/alike-vehicles.js';
import { demoTexts, found, libraryOf } from './helpers/shop.js';

type Texts = Readonly<Record<string, string>>;

const demo = Object.entries(demoTexts()).filter(([path]) => !path.startsWith('/shop/jobs/'));
const profiles = demo.filter(([path]) => path.startsWith('/shop/vehicles/'));
const idOf = (text: string): string => /^id: (.*)$/m.exec(text)?.[1] ?? '';

/** What the demo has for one vehicle, and a second profile of it; the work is for those that are named. */
function shopFor(vehicle: string, second: string, on: readonly string[]): Texts {
  const list = `[${on.join(', ')}]`.padEnd(60);
  const texts = demo.flatMap(([path, text]): [string, string][] => {
    const its = /^for: (.*)$/m.exec(text)?.[1];
    if (path.startsWith('/shop/vehicles/')) return idOf(text) === vehicle ? [[path, text]] : [];
    if (its === undefined) return [[path, text]];
    return its.includes(vehicle) ? [[path, text.replace(/^for: .*$/m, `for: ${list}`)]] : [];
  });
  return { ...Object.fromEntries(texts), '/shop/vehicles/second.yaml': second };
}

/** What is found in its procedures. */
const foundInWork = (texts: Texts): string[] =>
  found(libraryOf(texts)).flatMap(({ rule, place, message }) => (place.startsWith('procedures/') ? [`${rule} ${place} ${message}`] : []));

const second = (text: string): string => text.replace(/^id: (.*)$/m, 'id: $1-second').replace(/^name: (.*)$/m, 'name: "$1, second"');

/** The second profile, so changed: one figure, a line or a word is another. */
const change = fc.record({
  of: fc.nat(),
  how: fc.constantFrom('figure', 'figure', 'figure', 'unit', 'line', 'word'),
  at: fc.nat(),
  other: fc.nat(),
});

function changed(text: string, { how, at, other }: typeof change extends fc.Arbitrary<infer C> ? C : never): string {
  const nth = (pattern: RegExp, to: (was: string, all: readonly string[]) => string): string => {
    const all = [...text.matchAll(pattern)];
    const { 0: was = '', index = 0 } = all[at % Math.max(1, all.length)] ?? {};
    const words = all.map(([word]) => word);
    return `${text.slice(0, index)}${to(was, words)}${text.slice(index + was.length)}`;
  };
  if (how === 'figure')
    return nth(/(?<=[ {[:])\d+(\.\d+)?(?= [a-zA-Z°%])/g, (was) => `${Number(was) * ([0, 0.1, 1.2, 10, 1000][other % 5] ?? 1)}`);
  if (how === 'unit') return nth(/(?<=\d )(N·m|L|mm|deg|min|bar|g)\b/g, (was, all) => all[other % all.length] ?? was);
  if (how === 'line') return nth(/^ {2,}.*\n/gm, () => '');
  return nth(/\b[a-z][a-z-]{3,}\b/g, (was, all) => all[other % all.length] ?? was);
}

it('what is found on two vehicles is what is found on each of them', () => {
  let [passedOver, faults] = [0, 0];
  fc.assert(
    fc.property(change, (one) => {
      const [, text = ''] = profiles[one.of % profiles.length] ?? [];
      const id = idOf(text);
      const other = changed(second(text), one);
      const both = [id, `${id}-second`];
      const library = libraryOf(shopFor(id, other, both));
      const vehicles = both.flatMap((name) => library.vehicles.get(name) ?? []);
      for (const work of library.procedures.values())
        if (work.for && unlikeTo(library, work, vehicles).length < vehicles.length) passedOver++;
      const each = new Set(both.flatMap((name) => foundInWork(shopFor(id, other, [name]))));
      faults += each.size;
      expect(new Set(foundInWork(shopFor(id, other, both))), JSON.stringify(one)).toEqual(each);
    }),
    { numRuns: Number(process.env.FUZZ ?? 60), seed: Number(process.env.SEED ?? 11) },
  );
  expect(passedOver).toBeGreaterThan(0);
  expect(faults).toBeGreaterThan(0);
}, 3_600_000);

describe('a second profile of a vehicle, of whose gearbox a procedure changes the fluid', () => {
  const [, text = ''] = profiles.find(([path]) => path.endsWith('/sillane-a.yaml')) ?? [];
  const both = ['sillane-a', 'sillane-a-second'];
  const torque = (name: string, to: string) => (was: string) => was.replace(new RegExp(`( ${name}: .*torque: )\\d+ N·m`), `$1${to}`);
  /** On how many of the two the procedure is looked at. */
  const lookedAt = (other: string): number => {
    const library = libraryOf(shopFor('sillane-a', other, both));
    const work = library.procedures.get('automatic-gearbox-service');
    return work
      ? unlikeTo(
          library,
          work,
          both.flatMap((name) => library.vehicles.get(name) ?? []),
        ).length
      : 0;
  };

  it.each<[string, number, (was: string) => string]>([
    ['is the same', 1, (was) => was],
    ['is of another book and another year', 1, (was) => was.replace('2019', '2021')],
    ['has a joint more that is tightened otherwise', 2, (was) => was.replace('fasteners:\n', 'fasteners:\n  hub-nut: { count: 1 }\n')],
    ['has another torque at a joint of a part that it fits', 2, torque('gearbox-drain-thread', '30 N·m')],
    ['has another capacity', 2, (was) => was.replace('capacity: 9.2 L', 'capacity: 9.4 L')],
    ['has a heavier part', 2, (was) => was.replace('{ name: gearbox pan,', '{ name: gearbox pan, mass: 4 kg,')],
    ['has a figure that cannot be read', 2, (was) => was.replace('capacity: 9.2 L', 'capacity: 9.2 l8')],
    ['has a key that nobody knows', 2, (was) => was.replace('{ name: gearbox pan,', '{ name: gearbox pan, colour: red,')],
  ])('which %s', (_, looks, other) => {
    expect(other(text) === text).toBe(_ === 'is the same');
    expect(lookedAt(other(second(text)))).toBe(looks);
  });

  it('a torque that it does not come to makes no difference, and one that it comes to by a cover does', () => {
    const more = (value: string) =>
      text
        .replace('parts:\n', 'parts:\n  towbar: { name: towbar, fasteners: towbar-bolts }\n')
        .replace(
          'fasteners:\n',
          `fasteners:\n  towbar-bolts: { count: 4, thread: M10x1.5, class: "8.8", drive: 17 AF, stages: [{ torque: ${value} }] }\n`,
        );
    const looks = (change: (was: string) => string): number => {
      const library = libraryOf({
        ...shopFor('sillane-a', second(change(more('45 N·m'))), both),
        '/shop/vehicles/sillane-a.yaml': change(more('49 N·m')),
      });
      const work = library.procedures.get('automatic-gearbox-service');
      const vehicles = both.flatMap((name) => library.vehicles.get(name) ?? []);
      return work && vehicles.length === 2 ? unlikeTo(library, work, vehicles).length : 0;
    };
    expect(looks((was) => was)).toBe(1);
    expect(looks((was) => was.replace('{ name: gearbox pan,', '{ name: gearbox pan, behind: [towbar],'))).toBe(2);
  });
});

it('what is wrong on the second vehicle alone is told', () => {
  const [, text = ''] = profiles.find(([path]) => path.endsWith('/marn-20.yaml')) ?? [];
  const both = ['marn-20', 'marn-20-second'];
  const heavier = second(text).replace('mass: 14 kg', 'mass: 34 kg');
  expect(foundInWork(shopFor('marn-20', second(text), both))).toEqual([]);
  expect(foundInWork(shopFor('marn-20', heavier, both))).toContainEqual(expect.stringMatching(/^hazard\/lift procedures\/clutch\.yaml/));
});
