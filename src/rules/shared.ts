import { Names } from '../findings/suggest.js';
import type { Card } from '../library/card.js';
import type { LibraryFile } from '../library/document.js';
import { type Library, unreadKinds, vehiclesAstray } from '../library/library.js';
import { once } from '../once.js';
import { AlikeOrders } from './alike-orders.js';

/** What rules ask of a whole library, made once for all of its documents, and without reading them. */
export class Shared {
  private readonly madeNames = new Map<SharedKind, Names>();
  readonly alike: AlikeOrders;
  /** Ids of vehicles on which jobs ask for a work, by the work's id. */
  readonly vehiclesOfJobs: ReadonlyMap<string, readonly string[]>;

  constructor(readonly library: Library) {
    this.alike = new AlikeOrders(library);
    const asked = new Map<string, string[]>();
    this.vehiclesOfJobs = asked;
    if (library.jobs.size === 0) return;
    for (const { card } of library.standing) {
      const { vehicle } = card ?? {};
      if (vehicle === undefined || !library.vehicles.has(vehicle)) continue;
      for (const id of card?.work ?? []) {
        const known = once(asked, id, () => []);
        if (!known.includes(vehicle)) known.push(vehicle);
      }
    }
  }

  /**
   * Ids of the vehicles that a procedure or preparation is for, as far as the library has them; if it says none, of those on
   * which jobs ask for it.
   */
  vehiclesFor(work: string, said: readonly string[] | undefined): readonly string[] {
    return said ? said.filter((id) => this.library.vehicles.has(id)) : (this.vehiclesOfJobs.get(work) ?? none);
  }

  /** All names of a kind. */
  names(kind: SharedKind): Names {
    return once(
      this.madeNames,
      kind,
      () =>
        new Names(
          isOfFaults(kind) ? faults[kind](this.library) : this.library.standing.flatMap(({ card }) => (card ? namesIn[kind](card) : [])),
        ),
    );
  }
}

/**
 * Names that are known to all documents; `measurements` are those of procedures and preparations, `needed` what any of them
 * needs. Of files in which no document could be read, `broken` are the ids and `unread` the kinds; `astray` are the vehicles
 * that catalogues name and nobody knows.
 */
export type SharedKind = DeclaredKind | keyof typeof faults;
type DeclaredKind = 'works' | 'procedures' | 'needed' | 'vehicles' | 'items' | 'measurements';

const none: readonly string[] = [];
const idWhere = (is: boolean, { id }: Card): readonly string[] => (is ? [id] : none);

const namesIn: Readonly<Record<DeclaredKind, (card: Card) => readonly string[]>> = {
  works: (card) => idWhere(card.kind === 'procedure' || card.kind === 'preparation', card),
  procedures: (card) => idWhere(card.kind === 'procedure', card),
  needed: (card) => card.needs ?? none,
  vehicles: (card) => idWhere(card.kind === 'vehicle', card),
  items: (card) => card.items ?? none,
  measurements: (card) => card.measurements ?? none,
};

const faults = {
  broken: ({ files }: Library): readonly string[] => files.flatMap(({ card, meant }) => (card ? none : (meant?.id ?? none))),
  unread: unreadKinds,
  astray: ({ standing, vehicles }: Library): readonly string[] =>
    standing.flatMap(({ card }) => (card?.kind === 'parts' ? vehiclesAstray({ vehicles }, card) : none)),
};
const isOfFaults = (kind: SharedKind): kind is keyof typeof faults => kind in faults;

/**
 * What rules may be told otherwise now, as `RuleContext.asked` says it: `items seal`, `any items`, `all items`; and the works
 * for which jobs have other vehicles now: `asks clutch`.
 * @param gone, came files that are others now
 */
export function toldOtherwise(before: Shared, now: Shared, gone: readonly LibraryFile[], came: readonly LibraryFile[]): string[] {
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
    const declared = (files: readonly LibraryFile[]) =>
      files.map(({ file, card }): [string, readonly string[]] => [file.path, card ? namesIn[kind](card) : none]);
    compare(kind, declared(gone), declared(came));
  }
  const [was, is] = [before.vehiclesOfJobs, now.vehiclesOfJobs];
  for (const id of new Set([...was.keys(), ...is.keys()])) if (was.get(id)?.join('\0') !== is.get(id)?.join('\0')) told.push(`asks ${id}`);
  for (const kind of Object.keys(faults) as (keyof typeof faults)[])
    compare(kind, [['', [...before.names(kind)]]], [['', [...now.names(kind)]]]);
  return told;
}
