import type { Charge, Choice, Fastener, Fluid, Measurement, Part, Temporary } from '../schema/generated/types.js';
import { spanOf } from '../schema/origin.js';
import type { Span } from '../source/source.js';
import type { VehicleDocument, WorkDocument } from './document.js';

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
}

const cache = new WeakMap<WorkDocument, Map<VehicleDocument | null, Scope>>();

export function scopeOf(work: WorkDocument, vehicle: VehicleDocument | null): Scope {
  let byVehicle = cache.get(work);
  if (!byVehicle) {
    byVehicle = new Map();
    cache.set(work, byVehicle);
  }
  let scope = byVehicle.get(vehicle);
  if (!scope) {
    scope = mergeScopes([work], vehicle);
    byVehicle.set(vehicle, scope);
  }
  return scope;
}

/** The names seen by several documents together, on one vehicle. */
export function mergeScopes(works: readonly WorkDocument[], vehicle: VehicleDocument | null): Scope {
  const both = <T>(pick: (document: WorkDocument | VehicleDocument) => Record<string, T> | undefined) =>
    new Map([...works.flatMap((work) => Object.entries(pick(work) ?? {})), ...(vehicle ? Object.entries(pick(vehicle) ?? {}) : [])]);
  return {
    vehicle,
    parts: both<Part>((d) => d.parts),
    temporaries: both<Temporary>((d) => d.temporaries),
    fasteners: both<Fastener>((d) => d.fasteners),
    measurements: both<Measurement>((d) => d.measurements),
    choices: both<Choice>((d) => d.choices),
    fluids: new Map(vehicle ? Object.entries(vehicle.fluids ?? {}) : []),
    charges: new Map(vehicle ? Object.entries(vehicle.charges ?? {}) : []),
  };
}

export function namesOf(scope: Scope, kind: NameKind): ReadonlyMap<string, { name?: string }> {
  const tables: Record<NameKind, ReadonlyMap<string, { name?: string }>> = {
    part: scope.parts,
    temporary: scope.temporaries,
    fluid: scope.fluids,
    charge: scope.charges,
    fastener: scope.fasteners,
    measurement: scope.measurements,
    choice: scope.choices,
  };
  return tables[kind];
}

const tables: Readonly<Record<NameKind, string>> = {
  part: 'parts',
  fastener: 'fasteners',
  temporary: 'temporaries',
  fluid: 'fluids',
  charge: 'charges',
  measurement: 'measurements',
  choice: 'choices',
};

/** The table of one document that declares names of a kind; undefined where it has none. */
export function tableOf(document: object, kind: NameKind): object | undefined {
  const table: unknown = Object.entries(document).find(([key]) => key === tables[kind])?.[1];
  return typeof table === 'object' && table !== null ? table : undefined;
}

/**
 * The name for people: what the profile says, else what the language calls it, else the key without its hyphens.
 * @param known names of what no document declares, by key
 */
export function spoken(scope: Scope, id: string, known: Readonly<Record<string, string>> = {}): string {
  for (const kind of ['part', 'fastener', 'temporary', 'fluid', 'charge', 'measurement', 'choice'] as const) {
    const name = namesOf(scope, kind).get(id)?.name;
    if (name) return name;
  }
  return Object.hasOwn(known, id) ? (known[id] ?? id) : id.replaceAll('-', ' ');
}

export const asList = (value: string | readonly string[] | undefined): readonly string[] =>
  value === undefined ? [] : typeof value === 'string' ? [value] : value;

export const spanOfEntry = (map: object, key: string): Span => spanOf(map, key, 'key');
