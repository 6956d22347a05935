import { Names } from '../findings/suggest.js';
import { once } from '../once.js';
import type { Charge, Choice, Fastener, Fluid, Measurement, Part, Temporary } from '../schema/generated/types.js';
import { isWritten } from '../schema/origin.js';
import type { VehicleDocument, WorkDocument } from './document.js';
import { isLost } from './written.js';

export type NameKind = 'part' | 'temporary' | 'fluid' | 'charge' | 'fastener' | 'measurement' | 'choice';

/** The names that a work document sees: those of the vehicle, and its own. Of two with one name the vehicle’s counts. */
export interface Scope {
  readonly parts: ReadonlyMap<string, Part>;
  readonly temporaries: ReadonlyMap<string, Temporary>;
  readonly fluids: ReadonlyMap<string, Fluid>;
  readonly charges: ReadonlyMap<string, Charge>;
  readonly fasteners: ReadonlyMap<string, Fastener>;
  readonly measurements: ReadonlyMap<string, Measurement>;
  readonly choices: ReadonlyMap<string, Choice>;
  readonly vehicle: VehicleDocument | null;
  /** The same for all scopes with the same parts, temporaries, fasteners and fluids: what is found out of these is kept under it. */
  readonly things: object;
}

const alone = new WeakMap<VehicleDocument, Scope>();

/** The names of a vehicle, or none. */
function scopeOfVehicle(vehicle: VehicleDocument | null): Scope {
  let known = vehicle ? alone.get(vehicle) : undefined;
  if (!known) {
    const table = <T>(entries: Record<string, T> | undefined) => new Map(Object.entries(entries ?? {}));
    known = {
      vehicle,
      things: {},
      parts: table<Part>(vehicle?.parts),
      temporaries: table<Temporary>(vehicle?.temporaries),
      fasteners: table<Fastener>(vehicle?.fasteners),
      measurements: table<Measurement>(vehicle?.measurements),
      choices: table<Choice>(vehicle?.choices),
      fluids: table<Fluid>(vehicle?.fluids),
      charges: table<Charge>(vehicle?.charges),
    };
    if (vehicle) alone.set(vehicle, known);
  }
  return known;
}

/** The names seen by one or several documents together, on one vehicle. A table to which they add nothing is the vehicle's own. */
export function mergeScopes(works: readonly WorkDocument[], vehicle: VehicleDocument | null): Scope {
  const own = scopeOfVehicle(vehicle);
  const both = <T>(of: ReadonlyMap<string, T>, pick: (document: WorkDocument) => Record<string, T> | undefined): ReadonlyMap<string, T> =>
    works.some(pick) ? new Map([...works.flatMap((work) => Object.entries(pick(work) ?? {})), ...of]) : of;
  const parts = both(own.parts, (d) => d.parts);
  const temporaries = both(own.temporaries, (d) => d.temporaries);
  const fasteners = both(own.fasteners, (d) => d.fasteners);
  return {
    ...own,
    parts,
    temporaries,
    fasteners,
    things: parts === own.parts && temporaries === own.temporaries && fasteners === own.fasteners ? own.things : {},
    measurements: both(own.measurements, (d) => d.measurements),
    choices: both(own.choices, (d) => d.choices),
  };
}

const tables = {
  part: 'parts',
  fastener: 'fasteners',
  temporary: 'temporaries',
  fluid: 'fluids',
  charge: 'charges',
  measurement: 'measurements',
  choice: 'choices',
} as const satisfies Record<NameKind, keyof Scope>;

const nameKinds = Object.keys(tables) as readonly NameKind[];

export const namesOf = (scope: Scope, kind: NameKind): ReadonlyMap<string, { name?: string }> => scope[tables[kind]];

/** `$parts` stands for what is given as the parameter `parts`. */
export const isParameter = (name: string): boolean => name.charCodeAt(0) === dollar;

const dollar = '$'.charCodeAt(0);

/** Whether a name is one of some kinds, or a parameter that may be. */
export function isNamed(scope: Scope, kinds: readonly NameKind[], name: string): boolean {
  if (isParameter(name)) return true;
  for (const kind of kinds) if (namesOf(scope, kind).has(name)) return true;
  return false;
}

/** Whether a name is one of any kind. */
export const isNamedAtAll = (scope: Scope, name: string): boolean => isNamed(scope, nameKinds, name);

const asked = new WeakMap<Scope, Map<string, Names>>();

/** The names of some kinds, to ask which was meant. */
export const namesToAsk = (scope: Scope, kinds: readonly NameKind[]): Names =>
  once(
    once(asked, scope, () => new Map<string, Names>()),
    kinds.join(' '),
    () => new Names(kinds.flatMap((kind) => [...namesOf(scope, kind).keys()])),
  );

/** The table of one document that declares names of a kind; undefined where it has none. */
export function tableOf(document: object, kind: NameKind): object | undefined {
  const table: unknown = Object.hasOwn(document, tables[kind]) ? Reflect.get(document, tables[kind]) : undefined;
  return typeof table === 'object' && table !== null ? table : undefined;
}

/** Whether a document lacks the table of a kind because it could not be read. */
const isTableLost = (document: object, kind: NameKind): boolean => isLost(document, tables[kind]);

/** Whether a document declares a name of some kinds, or may, in what could not be read of it: that is told where it stands. */
export const mayDeclare = (document: object, kinds: readonly NameKind[], name: string): boolean =>
  kinds.some((kind) => isWritten(tableOf(document, kind), name) || isTableLost(document, kind));

/** What a language calls what no document declares. */
interface Language {
  /** By key. */
  readonly objects: Readonly<Record<string, string>>;
  /** Anything else, from its key. */
  readonly unnamed: (key: string) => string;
}

const asWritten: Language = { objects: {}, unnamed: (key) => key.replaceAll('-', ' ') };

/** The name for people: what the profile says, else what the language calls it, else the key without its hyphens. */
export function spoken(scope: Scope, id: string, { objects, unnamed }: Language = asWritten): string {
  for (const kind of ['part', 'fastener', 'temporary', 'fluid', 'charge', 'measurement', 'choice'] as const) {
    const name = namesOf(scope, kind).get(id)?.name;
    if (name) return name;
  }
  return Object.hasOwn(objects, id) ? (objects[id] ?? id) : unnamed(id);
}

export const asList = (value: string | readonly string[] | undefined): readonly string[] =>
  value === undefined ? [] : typeof value === 'string' ? [value] : value;

/** The circuits that a name stands for: its own, or those of a part. */
export const circuitsOf = ({ fluids, parts }: Scope, name: string): readonly string[] =>
  fluids.has(name) ? [name] : asList(parts.get(name)?.circuit);
