import type { VehicleDocument, WorkDocument } from '../library/document.js';
import { type Library, workDocument } from '../library/library.js';
import { once } from '../once.js';
import { neededBy } from '../plan/needs.js';
import { isQuantity } from '../quantity/quantity.js';
import { hasLost, isDamaged } from '../schema/origin.js';

/** What a profile says of itself alone. */
const ofItself: ReadonlySet<string> = new Set(['id', 'name', 'revision', 'source', 'checked', 'built']);

/** Tables of which work has to do with those entries alone that it comes to by their names. */
const tables = ['fasteners', 'fluids', 'charges', 'measurements', 'choices'] as const;

/** A profile, as far as others may be like it. */
interface Shape {
  /** All of it but the figures of the tables; null where something of it could not be read. */
  readonly form: string | null;
  /** The entries of the tables as they are written, by table and name. */
  readonly entries: ReadonlyMap<string, string>;
}

const shapes = new WeakMap<VehicleDocument, Shape>();

const withoutQuantities = (_: string, value: unknown): unknown => (isQuantity(value) ? undefined : value);

const shapeOf = (vehicle: VehicleDocument): Shape =>
  once(shapes, vehicle, () => {
    let whole = true;
    const asWritten = (_: string, value: unknown): unknown => {
      if (isQuantity(value)) return value.text;
      if (typeof value === 'object' && value !== null) whole &&= !isDamaged(value) && !hasLost(value);
      return value;
    };
    const withoutFigures = (_: string, value: unknown): unknown =>
      isQuantity(value) ? [value.unit.symbol, value.nominal !== null, value.low !== null, value.high !== null] : value;
    const entries = new Map<string, string>();
    const inTables = tables.map((table) => {
      for (const [name, entry] of Object.entries(vehicle[table] ?? {})) entries.set(`${table} ${name}`, JSON.stringify(entry, asWritten));
      return JSON.stringify(vehicle[table], withoutFigures);
    });
    const isElsewhere = (key: string) => !ofItself.has(key) && !tables.some((table) => table === key);
    const elsewhere = Object.entries(vehicle).filter(([key]) => isElsewhere(key));
    const form = JSON.stringify([elsewhere, inTables], asWritten);
    return { form: whole && !isDamaged(vehicle) && !hasLost(vehicle) ? form : null, entries };
  });

const differences = new WeakMap<VehicleDocument, WeakMap<VehicleDocument, readonly string[]>>();

/** The entries in whose figures two profiles of one form differ. */
const differencesOf = (one: VehicleDocument, other: VehicleDocument): readonly string[] =>
  once(
    once(differences, one, () => new WeakMap()),
    other,
    () => {
      const others = shapeOf(other).entries;
      return [...shapeOf(one).entries].flatMap(([key, text]) => (others.get(key) === text ? [] : [key]));
    },
  );

/**
 * The vehicles of which each stands for those that are like it to a work: their profiles differ in nothing but what they are
 * called, and in figures that the work does not come to. Where nothing is found on the one, nothing is on the others.
 */
export function unlikeTo(library: Library, work: WorkDocument, vehicles: readonly VehicleDocument[]): readonly VehicleDocument[] {
  if (vehicles.length < 2) return vehicles;
  const byForm = new Map<string, VehicleDocument[]>();
  const reachedIn = new Map<string, ReadonlySet<string>>();
  return vehicles.filter((vehicle) => {
    const { form } = shapeOf(vehicle);
    if (form === null) return true;
    const unlike = once(byForm, form, () => []);
    const isAlike = unlike.some((one) => {
      const differing = differencesOf(one, vehicle);
      if (differing.length === 0) return true;
      // The same in all of one form.
      const reached = once(reachedIn, form, () => reachedBy(library, work, one));
      return !differing.some((entry) => reached.has(entry));
    });
    if (!isAlike && unlike.length < mostCompared) unlike.push(vehicle);
    return !isAlike;
  });
}

/** So many of one form have different figures at what a work comes to, that the next has others again. */
const mostCompared = 8;

const words = new WeakMap<object, ReadonlySet<string>>();

/** All that may be a name in a document, or in one of its entries. */
const wordsIn = (value: object): ReadonlySet<string> =>
  once(words, value, () => new Set(JSON.stringify(value, withoutQuantities).match(/[a-z0-9][a-z0-9-]*/g)));

/** The entries of a profile that a work, and all that it needs, comes to: by their names, or by those of others that it comes to. */
function reachedBy(library: Library, work: WorkDocument, vehicle: VehicleDocument): ReadonlySet<string> {
  const named = namedIn(vehicle);
  const reached = new Set<string>();
  const open: object[] = [work, ...[...neededBy(library, [work.id])].flatMap((id) => workDocument(library, id) ?? [])];
  for (let one = open.pop(); one; one = open.pop())
    for (const word of wordsIn(one))
      for (const [key, entry] of named.get(word) ?? []) {
        if (reached.has(key)) continue;
        reached.add(key);
        open.push(entry);
      }
  return reached;
}

const names = new WeakMap<VehicleDocument, ReadonlyMap<string, readonly (readonly [key: string, entry: object])[]>>();

/** The entries of a profile by their names. */
const namedIn = (vehicle: VehicleDocument): ReadonlyMap<string, readonly (readonly [key: string, entry: object])[]> =>
  once(names, vehicle, () => {
    const named = new Map<string, [string, object][]>();
    for (const table of ['parts', 'temporaries', ...tables] as const)
      for (const [name, entry] of Object.entries(vehicle[table] ?? {})) once(named, name, () => []).push([`${table} ${name}`, entry]);
    return named;
  });
