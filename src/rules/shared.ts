import { Names } from '../findings/suggest.js';
import { fileOf, isWork, type VehicleDocument } from '../library/document.js';
import { documentsOf, type Library } from '../library/library.js';
import { once } from '../once.js';
import { wantedOf } from '../plan/cast.js';
import type { AnyDocument } from '../schema/generated/types.js';

/** What rules ask of a whole library, made once for all of its documents. */
export class Shared {
  /** The documents that names stand for. */
  readonly documents: readonly AnyDocument[];
  /** Vehicles on which jobs ask for a work, by the work's id. */
  readonly vehiclesOfJobs: ReadonlyMap<string, readonly VehicleDocument[]>;
  private readonly madeNames = new Map<SharedKind, Names>();

  constructor(readonly library: Library) {
    this.documents = documentsOf(library);
    const vehiclesOfJobs = new Map<string, VehicleDocument[]>();
    for (const job of library.jobs.values()) {
      const vehicle = library.vehicles.get(job.vehicle);
      if (!vehicle) continue;
      for (const one of job.work) {
        const { id } = wantedOf(one, library);
        const known = vehiclesOfJobs.get(id) ?? [];
        if (!known.includes(vehicle)) vehiclesOfJobs.set(id, [...known, vehicle]);
      }
    }
    this.vehiclesOfJobs = vehiclesOfJobs;
  }

  /** All names of a kind. */
  names(kind: SharedKind): Names {
    return once(this.madeNames, kind, () => new Names(kind === 'broken' ? brokenIn(this.library) : this.documents.flatMap(namesIn[kind])));
  }
}

/** Names that are known to all documents; `measurements` are those of procedures and preparations, `broken` ids in files that could not be read. */
export type SharedKind = DeclaredKind | 'broken';
type DeclaredKind = 'works' | 'procedures' | 'vehicles' | 'items' | 'measurements';

const none: readonly string[] = [];

const namesIn: Readonly<Record<DeclaredKind, (document: AnyDocument) => readonly string[]>> = {
  works: (document) => (isWork(document) ? [document.id] : none),
  procedures: (document) => (document.kind === 'procedure' ? [document.id] : none),
  vehicles: (document) => (document.kind === 'vehicle' ? [document.id] : none),
  items: (document) => (document.kind === 'parts' ? Object.keys(document.items) : none),
  measurements: (document) => (isWork(document) && document.measurements ? Object.keys(document.measurements) : none),
};

const brokenIn = ({ files }: Library): string[] =>
  files.flatMap(({ document, file }) => (document === null ? (/^id:\s*["']?([\w-]+)/m.exec(file.text)?.[1] ?? []) : []));

/**
 * What rules may be told otherwise now, as `RuleContext.asked` says it: `items seal`, `any items`, `all items`.
 * @param gone, came documents that are others now
 */
export function toldOtherwise(before: Shared, now: Shared, gone: readonly AnyDocument[], came: readonly AnyDocument[]): string[] {
  const told: string[] = [];
  /** @param old, others names by the path of the file that declares them: of two that are as near to a slip, the first is meant */
  const compare = (kind: SharedKind, old: readonly [string, readonly string[]][], others: readonly [string, readonly string[]][]) => {
    const said = (all: typeof old) => all.map(([path, names]) => `${path}\0${names.join('\0')}`).sort();
    if (said(old).join('\n') === said(others).join('\n')) return;
    const [oldNames, otherNames] = [new Set(old.flatMap(([, names]) => names)), new Set(others.flatMap(([, names]) => names))];
    const one = [...[...oldNames].filter((name) => !otherNames.has(name)), ...[...otherNames].filter((name) => !oldNames.has(name))];
    told.push(`all ${kind}`, `any ${kind}`, ...one.map((name) => `${kind} ${name}`));
  };
  for (const kind of Object.keys(namesIn) as DeclaredKind[]) {
    const declared = (documents: readonly AnyDocument[]) =>
      documents.map((document): [string, readonly string[]] => [fileOf(document).path, namesIn[kind](document)]);
    compare(kind, declared(gone), declared(came));
  }
  compare('broken', [['', [...before.names('broken')]]], [['', [...now.names('broken')]]]);
  return told;
}
